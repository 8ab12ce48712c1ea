//! What intake finds before a lesson is there, explained: files that cannot be read, heads, private marks, captions.

use super::{About, Check, Family, Run};
use crate::findings::Severity;

/// The rows of this page differ in little, so they stand together.
const fn row(id: &'static str, severity: Severity, about: About) -> Check {
    Check {
        id,
        severity,
        family: Family::Files,
        about,
        run: Run::Elsewhere,
    }
}

pub(super) const FILE_NOT_READABLE: Check = row(
    "file-not-readable",
    Severity::Error,
    About {
        finds: "A file of the notes folder cannot be opened.",
        matters: "Whatever it teaches is missing from the course.",
        trips: "(a note that only another user may read)",
        right: "(the same note, readable)",
    },
);

pub(super) const FILE_TOO_LARGE: Check = row(
    "file-too-large",
    Severity::Error,
    About {
        finds: "A file is far larger than any note.",
        matters: "It is probably a recording or a book that slipped in; reading it would tell nothing and take long.",
        trips: "(a text file of 50 MB)",
        right: "(the file moved out of the notes folder)",
    },
);

pub(super) const FILE_NOT_TEXT: Check = row(
    "file-not-text",
    Severity::Error,
    About {
        finds: "A file has the ending of a note, but holds something that is no text.",
        matters: "Nothing can be read from it.",
        trips: "(a picture named tangos.txt)",
        right: "(the picture under its own ending; the note saved as plain text)",
    },
);

pub(super) const FILE_IN_UTF_16: Check = row(
    "file-in-utf-16",
    Severity::Error,
    About {
        finds: "A text file is saved as UTF-16.",
        matters: "Its letters cannot be read here; saved as UTF-8 they can.",
        trips: "(a note saved as \"Unicode\" by an old text editor)",
        right: "(the same note saved as UTF-8)",
    },
);

pub(super) const FILE_NOT_UTF_8: Check = row(
    "file-not-utf-8",
    Severity::Error,
    About {
        finds: "A text file is not saved as UTF-8.",
        matters: "Accents would turn into other letters, and with them the words of the trade.",
        trips: "(a note with Latin-1 accents)",
        right: "(the same note saved as UTF-8)",
    },
);

pub(super) const FOLDER_LEADS_BACK: Check = row(
    "folder-leads-back",
    Severity::Error,
    About {
        finds: "A link in the notes folder leads back into a folder that holds it.",
        matters: "Following it would never end; it is left out.",
        trips: "notes/again -> notes",
        right: "(the link removed)",
    },
);

pub(crate) const PALOS_FILE_WRONG: Check = row(
    "palos-file-wrong",
    Severity::Error,
    About {
        finds: "The folder's own `palos.toml` has a fault, so none of it is used.",
        matters: "A palo half read would be counted and clapped wrongly on every page.",
        trips: "[[palo]]\nslug = \"Our Tangos\"",
        right: "[[palo]]\nslug = \"our-tangos\"",
    },
);

pub(super) const NOTE_EMPTY: Check = row(
    "note-empty",
    Severity::Warning,
    About {
        finds: "A note has nothing in it.",
        matters: "It makes no lesson; the student finds nothing under its name.",
        trips: "(an empty file tangos.notes.txt)",
        right: "[0:00] tangos por medio",
    },
);

pub(super) const NOTE_WITHOUT_TEXT: Check = row(
    "note-without-text",
    Severity::Warning,
    About {
        finds: "A note has a head and nothing below it.",
        matters: "It makes a page with a title and no music.",
        trips: "title: tangos, the first compás\npalo: tangos",
        right: "title: tangos, the first compás\npalo: tangos\n\n[0:20] 1 golpe, 2 i dn",
    },
);

pub(super) const LANGUAGE_UNKNOWN: Check = row(
    "language-unknown",
    Severity::Warning,
    About {
        finds: "The head names a language that is not read: notes are read in English and Spanish.",
        matters: "The note is read all the same, in the language it seems to be in, and may be misunderstood.",
        trips: "language: Klingon",
        right: "language: es",
    },
);

pub(super) const HEAD_LINE_EMPTY: Check = row(
    "head-line-empty",
    Severity::Warning,
    About {
        finds: "A head line has a name and no value.",
        matters: "Nobody can tell whether it was forgotten.",
        trips: "capo:",
        right: "capo: 2",
    },
);

pub(super) const HEAD_LINE_TWICE: Check = row(
    "head-line-twice",
    Severity::Warning,
    About {
        finds: "A head line stands twice; the first is used.",
        matters: "If they differ, the student may get the wrong one.",
        trips: "capo: 2\ncapo: 3",
        right: "capo: 3",
    },
);

pub(super) const HEAD_NAME_UNKNOWN: Check = row(
    "head-name-unknown",
    Severity::Warning,
    About {
        finds: "A head line has a name that is not known.",
        matters: "It is left out: a misspelt `capo` is no capo.",
        trips: "cappo: 2",
        right: "capo: 2",
    },
);

pub(super) const TIME_NOT_READ: Check = row(
    "time-not-read",
    Severity::Warning,
    About {
        finds: "A time at the start of a line cannot be read.",
        matters: "The line has no moment in the recording to open.",
        trips: "[1:75] 3 i dn",
        right: "[2:15] 3 i dn",
    },
);

pub(super) const CAPTIONS_WITHOUT_WEBVTT: Check = row(
    "captions-without-webvtt",
    Severity::Warning,
    About {
        finds: "A `.vtt` file does not begin with the line WEBVTT that the W3C format asks for.",
        matters: "It is read all the same, but a browser would refuse it.",
        trips: "00:01.000 --> 00:03.000\nfour down strokes",
        right: "WEBVTT\n\n00:01.000 --> 00:03.000\nfour down strokes",
    },
);

pub(super) const CAPTION_TIME_NOT_READ: Check = row(
    "caption-time-not-read",
    Severity::Warning,
    About {
        finds: "The times of a caption cannot be read, so the caption is left out.",
        matters: "Its words are missing from the lesson.",
        trips: "WEBVTT\n\n00:01 --> 00:03.000\nfour down strokes",
        right: "WEBVTT\n\n00:01.000 --> 00:03.000\nfour down strokes",
    },
);

pub(super) const CAPTION_WITHOUT_TIME: Check = row(
    "caption-without-time",
    Severity::Warning,
    About {
        finds: "A caption has no line of times above it, so it is left out.",
        matters: "Its words are missing from the lesson.",
        trips: "WEBVTT\n\nfour down strokes",
        right: "WEBVTT\n\n00:01.000 --> 00:03.000\nfour down strokes",
    },
);

pub(super) const PRIVATE_NEVER_ENDS: Check = row(
    "private-never-ends",
    Severity::Warning,
    About {
        finds: "A private part begins and never ends; it stays private to the end of the note.",
        matters: "Nothing private gets out, but the lesson may lose its second half.",
        trips: "(private)\n\n[0:20] she pays late again\n[0:30] 3 i dn",
        right: "(private)\n\n[0:20] she pays late again\n(public)\n[0:30] 3 i dn",
    },
);

pub(super) const PRIVATE_NEVER_BEGINS: Check = row(
    "private-never-begins",
    Severity::Error,
    About {
        finds: "A private part ends that never began.",
        matters: "Something that was meant to stay private may stand in the open above it.",
        trips: "[0:20] she pays late again\n(end of private)",
        right: "(private)\n[0:20] she pays late again\n(end of private)",
    },
);

pub(super) const PRIVATE_STRETCH_NOT_READ: Check = row(
    "private-stretch-not-read",
    Severity::Error,
    About {
        finds: "The head keeps a stretch of the recording private, and its times cannot be read.",
        matters: "What was meant to stay private would be published.",
        trips: "private: from the coffee to the end",
        right: "private: 12:40-13:05",
    },
);

pub(super) const PRIVATE_STRETCH_WITHOUT_TIMES: Check = row(
    "private-stretch-without-times",
    Severity::Error,
    About {
        finds: "The head keeps a stretch of the recording private, but a note of the lesson has no times to tell it by.",
        matters: "What was meant to stay private cannot be found, so it would be published.",
        trips: "private: 12:40-13:05\n\nand now between ourselves",
        right: "private: 12:40-13:05\n\n[12:41] and now between ourselves",
    },
);

pub(super) const ADDRESS_TAKEN: Check = row(
    "address-taken",
    Severity::Warning,
    About {
        finds: "The names of two lessons make the same address; the second gets another one.",
        matters: "A link that a student kept may open the other lesson.",
        trips: "(the files \"Tangos 1.notes.txt\" and \"tangos-1.notes.txt\")",
        right: "(the files \"tangos-1.notes.txt\" and \"tangos-2.notes.txt\")",
    },
);

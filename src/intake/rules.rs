use crate::findings::Severity;

/// What this room may say about the files themselves: for `check --explain`.
#[derive(Debug)]
pub struct Rule {
    pub id: &'static str,
    pub severity: Severity,
    /// What trips it.
    pub trips: &'static str,
    /// The same, put right.
    pub right: &'static str,
}

/// Every rule of this room, in the order in which a file is read.
pub const RULES: &[Rule] = &[
    Rule {
        id: "folder-leads-back",
        severity: Severity::Error,
        trips: "notes/old -> notes",
        right: "notes/old, a folder of its own, or no link",
    },
    Rule {
        id: "file-not-readable",
        severity: Severity::Error,
        trips: "notes/solea.txt, readable by its owner only",
        right: "notes/solea.txt, readable",
    },
    Rule {
        id: "file-too-large",
        severity: Severity::Error,
        trips: "take-3.txt, 50 MB",
        right: "take-3.wav",
    },
    Rule {
        id: "file-not-text",
        severity: Severity::Error,
        trips: "a recording named take-3.txt",
        right: "take-3.mp3",
    },
    Rule {
        id: "file-in-utf-16",
        severity: Severity::Error,
        trips: "solea.txt, saved as \"Unicode\"",
        right: "solea.txt, saved as UTF-8",
    },
    Rule {
        id: "file-not-utf-8",
        severity: Severity::Error,
        trips: "solea.txt, saved as Windows-1252 or Latin-1",
        right: "solea.txt, saved as UTF-8",
    },
    Rule {
        id: "course-file-wrong",
        severity: Severity::Error,
        trips: "titel = \"Thursday evening\"",
        right: "title = \"Thursday evening\"",
    },
    Rule {
        id: "note-empty",
        severity: Severity::Warning,
        trips: "solea.txt, 0 bytes",
        right: "[0:07] soleá, count 12",
    },
    Rule {
        id: "note-without-text",
        severity: Severity::Warning,
        trips: "title: Soleá, the first compás",
        right: "title: Soleá, the first compás\n\n1-12: ...",
    },
    Rule {
        id: "head-name-unknown",
        severity: Severity::Warning,
        trips: "title: Soleá\ntemp: 90",
        right: "title: Soleá\ntempo: 90",
    },
    Rule {
        id: "head-line-twice",
        severity: Severity::Warning,
        trips: "key: A phrygian\nkey: E phrygian",
        right: "key: A phrygian",
    },
    Rule {
        id: "head-line-empty",
        severity: Severity::Warning,
        trips: "tempo:",
        right: "tempo: 90",
    },
    Rule {
        id: "language-unknown",
        severity: Severity::Warning,
        trips: "language: French",
        right: "language: en",
    },
    Rule {
        id: "time-not-read",
        severity: Severity::Warning,
        trips: "[2:75] 5 i dn",
        right: "[3:15] 5 i dn",
    },
    Rule {
        id: "captions-without-webvtt",
        severity: Severity::Warning,
        trips: "00:01.000 --> 00:02.000\nhello",
        right: "WEBVTT\n\n00:01.000 --> 00:02.000\nhello",
    },
    Rule {
        id: "caption-time-not-read",
        severity: Severity::Warning,
        trips: "00:01,000 --> 00:02,000 (in a .vtt file)",
        right: "00:01.000 --> 00:02.000",
    },
    Rule {
        id: "caption-without-time",
        severity: Severity::Warning,
        trips: "00:01.000 --> 00:02.000\none and\n\ntwo and",
        right: "00:01.000 --> 00:02.000\none and\ntwo and",
    },
    Rule {
        id: "private-never-ends",
        severity: Severity::Warning,
        trips: "This stays between us. Ana's wrist hurts. Now, count five.",
        right: "This stays between us. Ana's wrist hurts. End of the private part. Now, count five.",
    },
    Rule {
        id: "private-never-begins",
        severity: Severity::Error,
        trips: "Ana's wrist hurts. End of the private part.",
        right: "(private) Ana's wrist hurts. End of the private part.",
    },
    Rule {
        id: "private-stretch-not-read",
        severity: Severity::Error,
        trips: "private: around minute 12",
        right: "private: 12:40-13:05",
    },
    Rule {
        id: "private-stretch-without-times",
        severity: Severity::Error,
        trips: "private: 12:40-13:05\n\nAna's wrist hurts",
        right: "(private) Ana's wrist hurts",
    },
    Rule {
        id: "address-taken",
        severity: Severity::Warning,
        trips: "solea 1.txt, solea-1.txt",
        right: "solea-1.txt, solea-2.txt",
    },
];

use std::path::Path;

use unicode_normalization::UnicodeNormalization;

use super::NoteKind;

/// What a file's name says about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct NameSays {
    pub(super) form: Form,
    /// None for a plain `.txt`: its text decides.
    pub(super) kind: Option<NoteKind>,
    pub(super) stem: String,
    pub(super) language: Option<String>,
}

/// How the file is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Plain,
    Markdown,
    WebVtt,
    SubRip,
}

/// Endings of files that are notes.
const FORMS: &[(&str, Form)] = &[
    ("txt", Form::Plain),
    ("md", Form::Markdown),
    ("vtt", Form::WebVtt),
    ("srt", Form::SubRip),
];

/// Middle endings that say the kind: `solea.notes.txt`.
const KINDS: &[(&str, NoteKind)] = &[
    ("notes", NoteKind::Typed),
    ("apuntes", NoteKind::Typed),
    ("spoken", NoteKind::Spoken),
    ("hablado", NoteKind::Spoken),
    ("corrections", NoteKind::Corrections),
    ("correcciones", NoteKind::Corrections),
];

/// Middle endings that say the language: `solea.es.spoken.txt`.
const LANGUAGES: &[&str] = &["en", "es"];

/// What the name says, or why the file is no note.
pub(super) fn read_name(path: &Path) -> Result<NameSays, String> {
    let name: String = path.file_name().unwrap_or_default().to_string_lossy().nfc().collect();
    let Some((rest, ending)) = name.rsplit_once('.') else {
        return Err("its name has no ending; a note ends in .txt, .md, .vtt or .srt".to_owned());
    };
    let ending = ending.to_lowercase();
    let Some((_, form)) = FORMS.iter().find(|(known, _)| *known == ending) else {
        return Err(format!(
            "a .{ending} file is no note; a note ends in .txt, .md, .vtt or .srt"
        ));
    };
    let mut says = NameSays {
        form: *form,
        kind: default_kind(*form),
        stem: rest.to_owned(),
        language: None,
    };
    while let Some((stem, middle)) = says.stem.rsplit_once('.') {
        let middle = middle.to_lowercase();
        if let Some((_, kind)) = KINDS.iter().find(|(known, _)| *known == middle) {
            says.kind = Some(*kind);
        } else if LANGUAGES.contains(&middle.as_str()) {
            says.language = Some(middle);
        } else {
            break;
        }
        says.stem = stem.to_owned();
    }
    Ok(says)
}

fn default_kind(form: Form) -> Option<NoteKind> {
    match form {
        Form::Plain => None,
        Form::Markdown => Some(NoteKind::Typed),
        Form::WebVtt | Form::SubRip => Some(NoteKind::Spoken),
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{Form, NoteKind, read_name};

    #[test]
    fn names_say_kind_stem_and_language() {
        use NoteKind::{Corrections, Spoken, Typed};
        for (name, form, kind, stem, language) in [
            (
                "tientos-despacio.es.spoken.txt",
                Form::Plain,
                Some(Spoken),
                "tientos-despacio",
                Some("es"),
            ),
            ("solea 1.NOTES.TXT", Form::Plain, Some(Typed), "solea 1", None),
            ("solea.notes.en.txt", Form::Plain, Some(Typed), "solea", Some("en")),
            ("solea.apuntes.txt", Form::Plain, Some(Typed), "solea", None),
            ("solea.corrections.txt", Form::Plain, Some(Corrections), "solea", None),
            ("solea.es.vtt", Form::WebVtt, Some(Spoken), "solea", Some("es")),
            ("a..b.srt", Form::SubRip, Some(Spoken), "a..b", None),
            ("no.2.txt", Form::Plain, None, "no.2", None),
            ("plan.md", Form::Markdown, Some(Typed), "plan", None),
        ] {
            let says = read_name(Path::new(name)).unwrap_or_else(|reason| panic!("{name}: {reason}"));
            assert_eq!(
                (says.form, says.kind, says.stem.as_str(), says.language.as_deref()),
                (form, kind, stem, language)
            );
        }
        for name in ["cover.jpg", "README", "take.mp3"] {
            assert!(read_name(Path::new(name)).is_err(), "{name}");
        }
    }
}

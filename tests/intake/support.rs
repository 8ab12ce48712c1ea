//! Notes folders made for one test, and cues shown as text.

use std::fs;

use compasario::intake::{self, Cue, Folder, Note};

/// A notes folder with these files, loaded.
pub fn folder(files: &[(&str, &str)]) -> (tempfile::TempDir, Folder) {
    let bytes: Vec<(&str, &[u8])> = files.iter().map(|(name, text)| (*name, text.as_bytes())).collect();
    let directory = write(&bytes);
    let folder = intake::load(directory.path()).unwrap();
    check_rules(&folder);
    (directory, folder)
}

pub fn write(files: &[(&str, &[u8])]) -> tempfile::TempDir {
    let directory = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        let path = directory.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    directory
}

/// A cue as one line: time, speaker, text, `*` in front when private.
pub fn shown(cue: &Cue) -> String {
    let time = cue.time.map(|time| format!("{time} ")).unwrap_or_default();
    let speaker = cue
        .speaker
        .as_ref()
        .map(|speaker| format!("<{speaker}> "))
        .unwrap_or_default();
    let private = if cue.private { "* " } else { "" };
    format!("{private}{time}{speaker}{}", cue.text.replace('\n', "/"))
}

pub fn cues(note: &Note) -> Vec<String> {
    note.cues.iter().map(shown).collect()
}

/// A single file of this name and text: its cues and the rules that found something.
pub fn check(name: &str, text: &str, expected: &[&str], rules: &[&str]) {
    let (_directory, folder) = folder(&[(name, text)]);
    let found: Vec<&str> = folder.findings.iter().map(|finding| finding.rule.as_str()).collect();
    assert_eq!(cues(&folder.notes[0]), expected, "{name}: {text}");
    assert_eq!(found, rules, "{name}: {text}");
    check_maps(&folder);
}

/// Every letter of a cue leads to a letter of the file, and runs that are the file's own are the file's own.
pub fn check_maps(folder: &Folder) {
    for cue in folder.notes.iter().flat_map(|note| &note.cues) {
        let source = &folder.files[cue.file.0 as usize].text;
        for (at, letter) in cue.text.char_indices() {
            let span = cue.source_span(at, at + letter.len_utf8());
            assert!(source.is_char_boundary(span.start), "{at} {span:?} in {:?}", cue.text);
            assert!(source.is_char_boundary(span.end), "{at} {span:?} in {:?}", cue.text);
            assert!(span.end <= source.len());
        }
        let whole = cue.source_span(0, cue.text.len());
        assert!(source.get(whole.start..whole.end).is_some());
    }
}

/// Every finding has its row in the table, and the row's severity.
pub fn check_rules(folder: &Folder) {
    for finding in &folder.findings {
        let rule = intake::RULES.iter().find(|rule| rule.id == finding.rule);
        assert_eq!(
            rule.map(|rule| rule.severity),
            Some(finding.severity),
            "{}",
            finding.rule
        );
        assert!(
            !finding.message.ends_with('.') && !finding.help.ends_with('.'),
            "{finding:?}"
        );
    }
}

use std::fs;
use std::path::{Path, PathBuf};

use super::decode::LARGEST;
use super::file::{Role, Waiting};
use super::folder::{PALOS, WORDS};
use super::head::{read_head, value};
use super::kinds::{NameSays, read_name};
use super::lines::lines;
use super::report::Report;
use super::walk::reason;
use super::{Folder, Sibling};
use crate::failure::Failure;
use crate::findings::Words;
use crate::text::{FileId, Language, SourceText, slug};

/// How much of a neighbour is read to find the head's `lesson:` and `title:` lines.
const HEAD_BYTES: usize = 4096;

/// How much of a note's folder is read beside it.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Beside {
    /// The names of the other lessons.
    Names,
    /// The other lessons, as far as they lie in the same folder.
    Lessons,
}

pub(super) fn load_note(path: &Path, beside: Beside) -> Result<Folder, Failure> {
    let unreadable = |reason: String| Failure::Unreadable {
        path: path.to_path_buf(),
        reason,
    };
    let says = read_name(path).map_err(&unreadable)?;
    let metadata = fs::metadata(path).map_err(|error| unreadable(reason(&error)))?;
    if !metadata.is_file() {
        return Err(unreadable("it is not an ordinary file".to_owned()));
    }
    let mut folder = Folder {
        root: directory(path),
        ..Folder::default()
    };
    folder.take(Waiting {
        path: path.to_path_buf(),
        name: path.to_string_lossy().into_owned(),
        bytes: metadata.len(),
        role: Role::Note(says),
    });
    let Some(asked) = folder.notes.first() else {
        let findings = folder.findings.iter().map(|finding| match finding.help.as_str() {
            "" => finding.message.clone(),
            help => format!("{}; {help}", finding.message),
        });
        return Err(unreadable(findings.collect::<Vec<_>>().join("\n")));
    };
    folder.asked = Some(asked.file);
    let id = slug(value(&asked.head, "lesson").unwrap_or(&asked.stem));
    take_neighbours(&mut folder, path, &id, beside);
    folder.finish()?;
    Ok(folder)
}

fn directory(path: &Path) -> PathBuf {
    let parent = path.parent().unwrap_or(Path::new(""));
    if parent.as_os_str().is_empty() {
        PathBuf::from(".")
    } else {
        parent.to_path_buf()
    }
}

/// Notes of the same lesson, the names of the other lessons or their notes, and the teacher's own words and palos.
fn take_neighbours(folder: &mut Folder, path: &Path, id: &str, beside: Beside) {
    for neighbour in neighbours(&folder.root.clone()) {
        let same_file = neighbour.file_name() == path.file_name();
        let Ok(metadata) = fs::metadata(&neighbour) else {
            continue;
        };
        if same_file || !metadata.is_file() {
            continue;
        }
        let shown = path.with_file_name(neighbour.file_name().unwrap_or_default());
        let shown = shown.to_string_lossy().into_owned();
        let file_name = neighbour.file_name().map(|name| name.to_string_lossy().into_owned());
        let role = match file_name.as_deref() {
            Some(WORDS) => Role::Words,
            Some(PALOS) => Role::Palos,
            _ => {
                let Ok(says) = read_name(&neighbour) else { continue };
                let sibling = sibling(&neighbour, &says, metadata.len());
                if sibling.id != id {
                    folder.siblings.push(sibling);
                    if beside == Beside::Names {
                        continue;
                    }
                }
                Role::Note(says)
            }
        };
        folder.take(Waiting {
            path: neighbour,
            name: shown,
            bytes: metadata.len(),
            role,
        });
    }
    // In the order of the folder, so that the same is said of a note as when all are judged.
    let Folder { notes, files, .. } = folder;
    if beside == Beside::Lessons {
        notes.sort_by_key(|note| files.get(note.file.0 as usize).map(|file| file.name.clone()));
    }
    folder.siblings.sort();
    folder.siblings.dedup_by(|later, first| later.id == first.id);
}

/// The folder's files by name, without those whose names begin with `.` or `_`.
fn neighbours(directory: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(directory).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> = entries
        .filter(|entry| {
            let name = entry.file_name();
            let bytes = name.as_encoded_bytes();
            !bytes.starts_with(b".") && !bytes.starts_with(b"_")
        })
        .map(|entry| entry.path())
        .collect();
    paths.sort();
    paths
}

/// What a neighbour's name and head say of the lesson it is.
fn sibling(path: &Path, says: &NameSays, bytes: u64) -> Sibling {
    let text = if bytes <= LARGEST {
        first_bytes(path)
    } else {
        String::new()
    };
    let source = SourceText::new(FileId::default(), "", text);
    let mut report = Report::new(&source, Words::of(Language::English));
    let all = lines(&source.text);
    let first = all.iter().position(|line| !line.is_blank()).unwrap_or(0);
    let head = read_head(all.get(first..).unwrap_or(&[]), &mut report).lines;
    Sibling {
        id: slug(value(&head, "lesson").unwrap_or(&says.stem)),
        title: value(&head, "title").map(str::to_owned),
    }
}

fn first_bytes(path: &Path) -> String {
    use std::io::Read;
    let mut bytes = Vec::new();
    let opened = fs::File::open(path);
    let read = opened.and_then(|file| file.take(HEAD_BYTES as u64).read_to_end(&mut bytes));
    match read {
        Ok(_) => String::from_utf8_lossy(&bytes).into_owned(),
        Err(_) => String::new(),
    }
}

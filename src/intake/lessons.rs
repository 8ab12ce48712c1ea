use std::collections::{BTreeMap, BTreeSet};

use super::head::value;
use super::{Folder, Note, NoteKind};
use crate::findings::{Finding, Holes, Severity};
use crate::text::{Span, slug};

/// The notes of one lesson, by index in `Folder::notes`: typed first, then corrections, then spoken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonNotes {
    /// An address of `a-z`, `0-9` and `-`, taken by no other lesson.
    pub id: String,
    pub notes: Vec<usize>,
}

/// Which notes are one lesson: those with the same `lesson:` line, or the same name before the endings.
///
/// Two lessons whose names make the same address by accident keep apart: the second gets its folder's name in front,
/// or a number behind. The order is the folder's.
pub fn lessons(folder: &Folder) -> Vec<LessonNotes> {
    group(folder).lessons
}

/// Findings about names that make the same address.
pub(super) fn address_findings(folder: &Folder) -> Vec<Finding> {
    group(folder).findings
}

#[derive(Default)]
struct Grouping {
    lessons: Vec<LessonNotes>,
    findings: Vec<Finding>,
}

/// A lesson being gathered.
struct Gathered {
    address: String,
    /// The name of its folder, `/` between.
    directory: String,
    stem: String,
    by_head: bool,
    notes: Vec<usize>,
}

fn group(folder: &Folder) -> Grouping {
    let mut gathered: Vec<Gathered> = Vec::new();
    let mut under: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (index, note) in folder.notes.iter().enumerate() {
        let this = gathered_alone(folder, index, note);
        let there = under.entry(this.address.clone()).or_default();
        let same = there
            .iter()
            .find(|at| gathered.get(**at).is_some_and(|lesson| lesson.is_of(&this)));
        match same.and_then(|at| gathered.get_mut(*at)) {
            Some(lesson) => lesson.notes.push(index),
            None => {
                there.push(gathered.len());
                gathered.push(this);
            }
        }
    }
    let gathered = join_transcripts(folder, gathered);
    give_addresses(folder, gathered)
}

fn gathered_alone(folder: &Folder, index: usize, note: &Note) -> Gathered {
    let said = value(&note.head, "lesson");
    let name = folder
        .files
        .get(note.file.0 as usize)
        .map_or("", |file| file.name.as_str());
    Gathered {
        address: slug(said.unwrap_or(&note.stem)),
        directory: name
            .rsplit_once('/')
            .map_or(String::new(), |(directory, _)| directory.to_owned()),
        stem: note.stem.clone(),
        by_head: said.is_some(),
        notes: vec![index],
    }
}

impl Gathered {
    /// The same lesson for certain: the head says so, or the same name in the same folder.
    fn is_of(&self, other: &Gathered) -> bool {
        let same_place = self.directory == other.directory && self.stem == other.stem;
        let said = self.by_head || other.by_head;
        self.address == other.address && (said || same_place)
    }
}

/// A transcript or corrections alone under an address join the one lesson that has a typed note there: a transcript may lie in another folder.
fn join_transcripts(folder: &Folder, gathered: Vec<Gathered>) -> Vec<Gathered> {
    let typed = |lesson: &Gathered| {
        let notes = lesson.notes.iter().filter_map(|index| folder.notes.get(*index));
        notes.into_iter().any(|note| note.kind == NoteKind::Typed)
    };
    let mut holders: BTreeMap<String, usize> = BTreeMap::new();
    for lesson in gathered.iter().filter(|lesson| typed(lesson)) {
        *holders.entry(lesson.address.clone()).or_default() += 1;
    }
    let (mut kept, alone): (Vec<_>, Vec<_>) = gathered
        .into_iter()
        .partition(|lesson| typed(lesson) || holders.get(&lesson.address) != Some(&1));
    let at: BTreeMap<String, usize> = kept
        .iter()
        .enumerate()
        .filter(|(_, lesson)| typed(lesson))
        .map(|(at, lesson)| (lesson.address.clone(), at))
        .collect();
    for lesson in alone {
        if let Some(holder) = at.get(&lesson.address).and_then(|at| kept.get_mut(*at)) {
            holder.notes.extend(lesson.notes);
        }
    }
    kept.sort_by_key(|lesson| lesson.notes.iter().min().copied());
    kept
}

fn give_addresses(folder: &Folder, gathered: Vec<Gathered>) -> Grouping {
    let wanted: BTreeSet<String> = gathered.iter().map(|lesson| lesson.address.clone()).collect();
    let mut taken: BTreeMap<String, usize> = BTreeMap::new();
    let mut grouping = Grouping::default();
    for mut lesson in gathered {
        let first = lesson.notes.first().copied().unwrap_or(0);
        let mut id = lesson.address.clone();
        if let Some(holder) = taken.get(&id).copied() {
            id = free_address(&lesson, &wanted, &taken);
            grouping
                .findings
                .extend(same_address(folder, first, holder, &lesson.address, &id));
        }
        taken.insert(id.clone(), first);
        lesson
            .notes
            .sort_by_key(|index| (folder.notes.get(*index).map(|note| note.kind.rank()), *index));
        grouping.lessons.push(LessonNotes {
            id,
            notes: lesson.notes,
        });
    }
    grouping
}

/// The folder's name in front where that is free, otherwise the first free number behind.
fn free_address(lesson: &Gathered, wanted: &BTreeSet<String>, taken: &BTreeMap<String, usize>) -> String {
    let is_free = |id: &String| !wanted.contains(id) && !taken.contains_key(id);
    let in_folder = format!("{}-{}", slug(&lesson.directory), lesson.address);
    if !lesson.directory.is_empty() && is_free(&in_folder) {
        return in_folder;
    }
    let mut numbered = (2..).map(|number| format!("{}-{number}", lesson.address));
    numbered.find(is_free).unwrap_or_else(|| lesson.address.clone())
}

fn same_address(folder: &Folder, note: usize, holder: usize, wanted: &str, given: &str) -> Option<Finding> {
    let source = |index: usize| {
        folder
            .notes
            .get(index)
            .and_then(|note| folder.files.get(note.file.0 as usize))
    };
    let (this, other) = (source(note)?, source(holder)?);
    let words = folder.notes.get(note).map(Note::words)?;
    let holes: Holes = &[
        ("other", &other.name),
        ("this", &this.name),
        ("wanted", &wanted),
        ("given", &given),
    ];
    let place = this.place(Span::new(0, 0), None);
    let mut finding = Finding::worded(words, "address-taken", Severity::Warning, place, ("", ""), holes);
    let taken = words.say("address-taken", "also", "", holes);
    finding.also.push((other.place(Span::new(0, 0), None), taken));
    Some(finding)
}

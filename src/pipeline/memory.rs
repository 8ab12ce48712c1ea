use std::collections::BTreeMap;

use crate::findings::Finding;
use crate::mark::Mark;
use crate::music::lesson::Lesson;

/// Lessons read and judged before, each under the mark of all that it was read from.
///
/// It forgets what a run had no use for, so it never grows beyond one course. Anything in it that cannot be understood is forgotten.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Memory {
    /// The program that read them: another one may read otherwise.
    program: String,
    lessons: BTreeMap<Mark, Vec<u8>>,
}

/// A lesson, with what is to be remembered of it.
pub(super) struct Read {
    pub(super) mark: Mark,
    pub(super) published: Lesson,
    /// With what stands in private cues, where there are any.
    for_teacher: Option<Lesson>,
    /// What the checks of single lessons say; None when they did not look yet.
    pub(super) findings: Option<Vec<Finding>>,
    remembered: bool,
}

impl Read {
    pub(super) fn new(mark: Mark, published: Lesson, for_teacher: Option<Lesson>) -> Self {
        Self {
            mark,
            published,
            for_teacher,
            findings: None,
            remembered: false,
        }
    }

    pub(super) fn for_teacher(&self) -> &Lesson {
        self.for_teacher.as_ref().unwrap_or(&self.published)
    }

    fn written(&self) -> Option<Vec<u8>> {
        rmp_serde::to_vec(&(&self.published, &self.for_teacher, &self.findings)).ok()
    }
}

impl Memory {
    /// Remembers nothing yet. `program` is anything that differs when the program does.
    pub fn new(program: &str) -> Self {
        Self {
            program: program.to_owned(),
            lessons: BTreeMap::new(),
        }
    }

    /// How many lessons it remembers.
    pub fn len(&self) -> usize {
        self.lessons.len()
    }

    pub fn is_empty(&self) -> bool {
        self.lessons.is_empty()
    }

    /// How many of them it could not give back: each would be read again, and nobody would notice but by the time it takes.
    pub fn forgotten(&self) -> usize {
        self.lessons.keys().filter(|mark| self.recall(**mark).is_none()).count()
    }

    /// The mark of a lesson that comes from these parts, read by this program.
    pub(super) fn mark(&self, parts: &[&[u8]]) -> Mark {
        let program = self.program.as_bytes();
        let all: Vec<&[u8]> = std::iter::once(program).chain(parts.iter().copied()).collect();
        Mark::of(&all)
    }

    pub(super) fn recall(&self, mark: Mark) -> Option<Read> {
        let (published, for_teacher, findings) = rmp_serde::from_slice(self.lessons.get(&mark)?).ok()?;
        Some(Read {
            mark,
            published,
            for_teacher,
            findings,
            remembered: true,
        })
    }

    /// Keeps what this run used or made, and nothing else.
    pub(super) fn settle(&mut self, read: &[Read]) {
        let before = std::mem::take(&mut self.lessons);
        for read in read {
            let kept = before.get(&read.mark).filter(|_| read.remembered).cloned();
            if let Some(written) = kept.or_else(|| read.written()) {
                self.lessons.insert(read.mark, written);
            }
        }
    }

    /// The memory as bytes, to be kept until the next run. They hold what is private in the notes.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut body = Vec::new();
        for (mark, lesson) in &self.lessons {
            body.extend_from_slice(mark.as_bytes());
            body.extend_from_slice(&(lesson.len() as u64).to_le_bytes());
            body.extend_from_slice(lesson);
        }
        let sum = Mark::of(&[self.program.as_bytes(), &body]);
        [sum.as_bytes(), &body].concat()
    }

    /// What those bytes remember; nothing, when another program wrote them or they are not whole.
    pub fn from_bytes(program: &str, bytes: &[u8]) -> Self {
        let mut memory = Self::new(program);
        let Some((sum, mut body)) = bytes.split_at_checked(MARK) else {
            return memory;
        };
        if Some(Mark::of(&[program.as_bytes(), body])) != Mark::from_bytes(sum) {
            return memory;
        }
        while let Some((mark, lesson, rest)) = entry(body) {
            memory.lessons.insert(mark, lesson.to_vec());
            body = rest;
        }
        memory
    }
}

/// Bytes of a mark, and of a length.
const MARK: usize = 32;
const LENGTH: usize = 8;

fn entry(body: &[u8]) -> Option<(Mark, &[u8], &[u8])> {
    let (mark, rest) = body.split_at_checked(MARK)?;
    let (length, rest) = rest.split_at_checked(LENGTH)?;
    let length = usize::try_from(u64::from_le_bytes(length.try_into().ok()?)).ok()?;
    let (lesson, rest) = rest.split_at_checked(length)?;
    Some((Mark::from_bytes(mark)?, lesson, rest))
}

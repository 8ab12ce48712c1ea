use std::collections::BTreeMap;

use serde::Serialize;

use crate::music::lesson::Lesson;

/// What the lessons say together.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Together {
    /// Lessons in the order of the course, where one is said: place, id, what has to be known first.
    pub order: Vec<(i64, String, Vec<String>)>,
    /// Each chord with its shapes.
    pub chords: Vec<TwoWays>,
    /// Each palo, counted in so many, with its accents.
    pub accents: Vec<TwoWays>,
    pub techniques: Vec<Used>,
}

/// One thing, said in one way or in several.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TwoWays {
    pub name: String,
    /// How it is said, and in which lessons.
    pub ways: Vec<(String, Vec<String>)>,
    pub differs: bool,
}

/// A technique: where it is explained first, and the lessons that use it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Used {
    pub id: String,
    pub explained_in: Vec<String>,
    pub used_in: Vec<String>,
    /// Lessons that use it before any that explains it, by the order of the course.
    pub too_early: Vec<String>,
}

type Ways = BTreeMap<String, BTreeMap<String, Vec<String>>>;

pub(super) fn together(lessons: &[Lesson]) -> Together {
    let mut chords = Ways::new();
    let mut accents = Ways::new();
    for lesson in lessons {
        for chord in &lesson.chords {
            if let Some(shape) = chord.shape {
                say(&mut chords, chord.name.to_string(), shape.to_string(), &lesson.id);
            }
        }
        let palo = lesson.palo.as_ref().zip(lesson.meter.beats.as_ref());
        let mut said: Vec<_> = lesson.meter.accents.iter().map(|accent| accent.value).collect();
        said.sort();
        if let Some((palo, beats)) = palo.filter(|_| !said.is_empty()) {
            let row: Vec<String> = said.iter().map(ToString::to_string).collect();
            say(
                &mut accents,
                format!("{} / {}", palo.value, beats.value),
                row.join(" "),
                &lesson.id,
            );
        }
    }
    let mut order: Vec<(i64, String, Vec<String>)> = lessons
        .iter()
        .filter_map(|lesson| {
            let needs = lesson.needs.iter().map(|need| need.value.clone()).collect();
            Some((lesson.order.as_ref()?.value, lesson.id.clone(), needs))
        })
        .collect();
    order.sort();
    Together {
        techniques: techniques(lessons),
        order,
        chords: ways(chords),
        accents: ways(accents),
    }
}

fn say(all: &mut Ways, name: String, way: String, lesson: &str) {
    let lessons = all.entry(name).or_default().entry(way).or_default();
    if !lessons.iter().any(|known| known == lesson) {
        lessons.push(lesson.to_owned());
    }
}

fn ways(all: Ways) -> Vec<TwoWays> {
    let mut ways: Vec<TwoWays> = all
        .into_iter()
        .map(|(name, ways)| TwoWays {
            differs: ways.len() > 1,
            ways: ways.into_iter().collect(),
            name,
        })
        .collect();
    ways.sort_by_key(|one| !one.differs);
    ways
}

fn techniques(lessons: &[Lesson]) -> Vec<Used> {
    let mut all: BTreeMap<&str, Used> = BTreeMap::new();
    let place = |id: &str| {
        lessons
            .iter()
            .find(|lesson| lesson.id == id)
            .and_then(|lesson| Some(lesson.order.as_ref()?.value))
    };
    for lesson in lessons {
        for technique in &lesson.techniques {
            let used = all.entry(&technique.id).or_insert_with(|| Used {
                id: technique.id.clone(),
                explained_in: Vec::new(),
                used_in: Vec::new(),
                too_early: Vec::new(),
            });
            let list = if technique.explained {
                &mut used.explained_in
            } else {
                &mut used.used_in
            };
            if !list.contains(&lesson.id) {
                list.push(lesson.id.clone());
            }
        }
    }
    let mut all: Vec<Used> = all.into_values().collect();
    for used in &mut all {
        let first = used.explained_in.iter().filter_map(|id| place(id)).min();
        let early = |id: &&String| place(id).zip(first).is_some_and(|(own, first)| own < first);
        used.too_early = used.used_in.iter().filter(early).cloned().collect();
    }
    all
}

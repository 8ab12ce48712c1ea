//! One palo: how it is counted, leant on, clapped, how fast, in which keys, and the lessons about it.

use serde::Serialize;

use super::addresses;
use super::compas::Compas;
use super::course::{Course, capital};
use super::drawing::{CompasRow, Naming, compas_row, palmas_row, part};
use super::home::{LessonLine, PaloLine, lesson_line, palo_lines};
use super::labels::{Labels, show_name};
use super::leaning_view::{self, NearView};
use super::pieces::{self, Link, Links};
use super::practice_page;
use super::sources_page::{Cited, cited};
use super::summary;
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::key::{Key, Mode, Tempo};
use crate::music::palo::{AccentSet, ClapSound, Compas as Attested, Layer, Palmas, Palo, TempoUnit, UsualKey};
use crate::music::pitch::NoteName;
use crate::music::position::Position;

#[derive(Debug, Serialize)]
struct PaloView {
    name: String,
    about: String,
    own: bool,
    free: bool,
    guitar: bool,
    compas: Vec<CompasView>,
    tempo: Vec<Figure>,
    keys: Vec<KeyView>,
    remarks: Vec<Figure>,
    source: Vec<Cited>,
    near: Vec<NearView>,
    near_source: Vec<Cited>,
    lessons: Vec<LessonLine>,
    /// Practice across its lessons, or of its one lesson.
    practice: Option<Link>,
}

#[derive(Debug, Serialize)]
struct CompasView {
    title: String,
    starts: Vec<Figure>,
    groupings: Vec<Figure>,
    spoken: Vec<Figure>,
    accents: Vec<AccentView>,
    palmas: Vec<AccentView>,
    source: Vec<Cited>,
}

#[derive(Debug, Serialize)]
struct AccentView {
    svg: String,
    words: String,
    note: String,
    /// What the rhythm is like by itself.
    character: Vec<String>,
    source: Vec<Cited>,
}

/// Something said about the palo, and who says it.
#[derive(Debug, Serialize)]
struct Figure {
    text: String,
    note: String,
    source: Vec<Cited>,
}

#[derive(Debug, Serialize)]
struct KeyView {
    toque: String,
    key: String,
    cadence: Vec<Link>,
    tuning: String,
    source: Vec<Cited>,
}

#[derive(Debug, Serialize)]
struct PalosView {
    palos: Vec<PaloLine>,
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let labels = course.labels;
    let page = pieces::page(course, "palos", labels.get("palos"), addresses::PALOS, labels);
    let view = PalosView {
        palos: palo_lines(course, &Links::from_page(addresses::PALOS)),
    };
    let mut files = vec![press.print(addresses::PALOS, "palos.html", &page, labels, ("palos", &view))?];
    for slug in course.palo_slugs() {
        let address = addresses::palo(&addresses::slug(slug));
        let view = palo_view(course, slug, &Links::from_page(&address));
        let page = pieces::page(course, "palo", &view.name, &address, labels);
        files.push(press.print(&address, "palo.html", &page, labels, ("palo", &view))?);
    }
    Ok(files)
}

fn palo_view(course: &Course, slug: &str, links: &Links) -> PaloView {
    let labels = course.labels;
    let lessons = course
        .of_palo(slug)
        .map(|ready| lesson_line(course, ready, links))
        .collect();
    let practice = practice(course, slug, links);
    let Some(palo) = course.palos.find(slug) else {
        return PaloView {
            name: capital(&slug.replace('-', " ")),
            about: labels.get("palo_unknown").to_owned(),
            own: false,
            free: false,
            guitar: true,
            compas: Vec::new(),
            tempo: Vec::new(),
            keys: Vec::new(),
            remarks: Vec::new(),
            source: Vec::new(),
            near: Vec::new(),
            near_source: Vec::new(),
            lessons,
            practice,
        };
    };
    let figure = |text: String, note: String, source| Figure {
        text,
        note,
        source: cited(source, links, labels),
    };
    let remarks = palo.remarks.iter().map(|remark| {
        let words = if labels.language == "es" {
            &remark.es
        } else {
            &remark.en
        };
        figure(words.clone(), String::new(), &remark.source)
    });
    PaloView {
        name: capital(palo.name.of(labels.language)),
        about: palo.about.of(labels.language).to_owned(),
        own: palo.own,
        free: palo.free,
        guitar: palo.guitar,
        compas: palo
            .compas
            .iter()
            .enumerate()
            .map(|(index, compas)| compas_view(compas, index, links, labels))
            .collect(),
        tempo: tempo(palo, links, labels),
        keys: palo.keys.iter().map(|key| key_view(key, links, labels)).collect(),
        remarks: remarks.collect(),
        source: cited(&palo.source, links, labels),
        near: leaning_view::near(course, palo, links),
        near_source: cited(&leaning_view::source(), links, labels),
        lessons,
        practice,
    }
}

fn practice(course: &Course, slug: &str, links: &Links) -> Option<Link> {
    let across = practice_page::of_palo(course, slug).map(|address| ("practice_across_link", address));
    let one = || course.of_palo(slug).find_map(practice_page::of_lesson);
    let (words, address) = across.or_else(|| one().map(|address| ("practice_link", address)))?;
    Some(links.to(course.labels.get(words), &address))
}

fn tempo(palo: &Palo, links: &Links, labels: &Labels) -> Vec<Figure> {
    let several = palo.compas.len() > 1;
    let line = |range: &crate::music::palo::TempoRange| {
        let per = if range.per == TempoUnit::Pulse {
            "per_pulse"
        } else {
            "per_count"
        };
        let mut notes: Vec<String> = Vec::new();
        if several {
            notes.push(labels.number("counted_in", usize::try_from(range.counts).unwrap_or(0)));
        }
        notes.extend(range.about.as_ref().map(|about| about.of(labels.language).to_owned()));
        Figure {
            text: summary::tempo_words(
                Tempo {
                    low: range.low,
                    high: range.high,
                },
                per,
                labels,
            ),
            note: notes.join(", "),
            source: cited(&range.source, links, labels),
        }
    };
    palo.tempo.iter().map(line).collect()
}

fn compas_view(attested: &Attested, index: usize, links: &Links, labels: &Labels) -> CompasView {
    let counts = usize::try_from(attested.counts).unwrap_or(0);
    let title = capital(&labels.number("counts", counts));
    let no_set = [None];
    let sets: Vec<Option<&AccentSet>> = attested.accents.iter().map(Some).collect();
    let sets = if sets.is_empty() { no_set.to_vec() } else { sets };
    let accents = sets.into_iter().enumerate().map(|(number, set)| {
        let compas = Compas::attested(attested, set);
        let words = if compas.accents.is_empty() {
            labels.get("accents_none").to_owned()
        } else {
            labels.fill(
                "accents_on",
                &[("accents", &summary::accent_words(&compas.accents, &compas, labels))],
            )
        };
        let id = format!("compas-{}-{}", index + 1, number + 1);
        AccentView {
            svg: compas_row(
                &compas,
                &CompasRow::default(),
                Some(Naming {
                    id: &id,
                    title: &title,
                    about: &words,
                }),
            ),
            character: set
                .filter(|_| attested.is_even())
                .map_or(Vec::new(), |set| leaning_view::character(attested.counts, set, labels)),
            words: capital(&words),
            note: set
                .and_then(|set| set.about.as_ref())
                .map_or(String::new(), |about| about.of(labels.language).to_owned()),
            source: set.map_or(Vec::new(), |set| cited(&set.source, links, labels)),
        }
    });
    let figure = |text: String, source| Figure {
        text,
        note: String::new(),
        source: cited(source, links, labels),
    };
    let row = |numbers: &[i64], joint: &str| numbers.iter().map(i64::to_string).collect::<Vec<_>>().join(joint);
    CompasView {
        accents: accents.collect(),
        starts: attested
            .starts
            .iter()
            .map(|start| {
                figure(
                    labels.fill("on_count", &[("count", &start.count.to_string())]),
                    &start.source,
                )
            })
            .collect(),
        groupings: attested
            .groupings
            .iter()
            .map(|grouping| figure(row(&grouping.groups, " + "), &grouping.source))
            .collect(),
        spoken: attested
            .spoken
            .iter()
            .map(|spoken| figure(row(&spoken.row, " "), &spoken.source))
            .collect(),
        palmas: attested
            .palmas
            .iter()
            .enumerate()
            .map(|(number, palmas)| {
                let id = format!("palmas-{}-{}", index + 1, number + 1);
                palmas_view(attested, palmas, &id, links, labels)
            })
            .collect(),
        source: cited(&attested.source, links, labels),
        title,
    }
}

fn palmas_view(attested: &Attested, palmas: &Palmas, id: &str, links: &Links, labels: &Labels) -> AccentView {
    let words = palmas_words(palmas, labels);
    let naming = Naming {
        id,
        title: labels.get("palmas"),
        about: &words,
    };
    let layer = labels.get(if palmas.layer == Layer::Base {
        "palmas_base"
    } else {
        "palmas_contra"
    });
    let sound = labels.get(if palmas.sound == ClapSound::Claras {
        "palmas_claras"
    } else {
        "palmas_sordas"
    });
    AccentView {
        svg: palmas_row(&Compas::attested(attested, None), &palmas.claps, &palmas.strong, naming),
        words: capital(&labels.fill("palmas_short", &[("layer", layer), ("sound", sound)])),
        character: Vec::new(),
        note: String::new(),
        source: cited(&palmas.source, links, labels),
    }
}

/// The claps one by one, for whoever does not see the row.
fn palmas_words(palmas: &Palmas, labels: &Labels) -> String {
    let row = |at: &[Position]| {
        let words = at.iter().map(|at| {
            let piece = if *at.fraction().numer() == 0 {
                String::new()
            } else {
                format!(" {}", part(*at, labels))
            };
            format!("{}{piece}", at.whole())
        });
        words.collect::<Vec<_>>().join(", ")
    };
    let mut words = labels.fill("palmas_row", &[("claps", &row(&palmas.claps))]);
    if !palmas.strong.is_empty() {
        words.push_str("; ");
        words.push_str(&labels.fill("palmas_strong", &[("claps", &row(&palmas.strong))]));
    }
    words
}

fn key_view(usual: &UsualKey, links: &Links, labels: &Labels) -> KeyView {
    let key = Key {
        tonic: usual.tonic,
        mode: usual.mode,
    };
    KeyView {
        toque: usual.toque.clone().unwrap_or_default(),
        key: summary::key_words(key, labels),
        cadence: cadence(key)
            .into_iter()
            .map(|name| Link::plain(show_name(&name)))
            .collect(),
        tuning: usual.tuning.map_or(String::new(), summary::tuning_words),
        source: cited(&usual.source, links, labels),
    }
}

/// The Andalusian cadence down to the tonic, iv III II I; the other modes have none of their own.
///
/// Roots 5, 3, 1 and 0 semitones above the tonic, minor then major: sources AND, UNC.
fn cadence(key: Key) -> Vec<String> {
    if key.mode != Mode::Phrygian {
        return Vec::new();
    }
    let steps = [(3, 5, "m"), (2, 3, ""), (1, 1, ""), (0, 0, "")];
    steps
        .iter()
        .map(|(letters, semitones, quality)| format!("{}{quality}", above(key.tonic, *letters, *semitones)))
        .collect()
}

/// The pitch so many letters and semitones above: a fourth above F sharp is B, a minor second above it G.
fn above(tonic: NoteName, letters: usize, semitones: u8) -> NoteName {
    const LETTERS: [char; 7] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
    let index = LETTERS.iter().position(|letter| *letter == tonic.letter).unwrap_or(0);
    let letter = LETTERS.iter().cycle().nth(index + letters).copied().unwrap_or('C');
    let wanted = (tonic.pitch_class() + semitones) % 12;
    let natural = NoteName::new(letter, 0).pitch_class();
    let up = (i16::from(wanted) - i16::from(natural)).rem_euclid(12);
    NoteName::new(letter, (if up > 6 { up - 12 } else { up }) as i8)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cadences_are_the_published_ones() {
        // "Flamenco Chord Progressions" [AND]: por arriba, medio, taranta, granaína, minera, rondeña.
        let table = [
            ("E", "Am G F E"),
            ("A", "Dm C Bb A"),
            ("F#", "Bm A G F#"),
            ("B", "Em D C B"),
            ("G#", "C#m B A G#"),
            ("C#", "F#m E D C#"),
        ];
        for (tonic, chords) in table {
            let key = Key {
                tonic: NoteName::parse(tonic).unwrap(),
                mode: Mode::Phrygian,
            };
            assert_eq!(cadence(key).join(" "), chords, "on {tonic}");
        }
    }
}

//! One lesson: at a glance, its patterns, its cautions and advice, the words it was read from.

use serde::Serialize;

use super::addresses;
use super::course::{Course, Ready, capital};
use super::drawing::{CompasRow, compas_row};
use super::leaning_view;
use super::pattern_view::{self, CautionView, PatternView};
use super::pieces::{self, Heard, Link, Links};
use super::player_files::PLAYER_STYLE;
use super::practice_page;
use super::practice_section::{PracticeView, practice};
use super::recording::Recording;
use super::summary::{self, Fact};
use super::templates::{Press, STYLE};
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::glossary::{GlossaryEntry, glossary};
use crate::music::technique::technique;
use crate::practice::page_data;
use crate::text::fold;

#[derive(Debug, Serialize)]
struct LessonView {
    eyebrow: String,
    title: String,
    unreviewed: bool,
    /// That the teacher checked this reading, and when.
    checked: String,
    compas_row: String,
    compas_words: String,
    compas_heard: Vec<Heard>,
    facts: Vec<Fact>,
    needs: Vec<Link>,
    player: Option<PlayerView>,
    practice: Option<PracticeView>,
    contents: Vec<Entry>,
    /// What the table of a drawing in words is called, and its first column.
    in_words: String,
    row_count: String,
    patterns: Vec<PatternView>,
    /// Variations from near to far.
    near_to_far: Vec<Link>,
    cautions: Vec<CautionView>,
    advice: Vec<CautionView>,
    techniques: Vec<Term>,
    terms: Vec<Term>,
    sentences: Vec<SentenceView>,
    see_also: Vec<Link>,
    one_file: Option<String>,
    previous: Option<Link>,
    next: Option<Link>,
}

#[derive(Debug, Serialize)]
struct PlayerView {
    src: String,
    video: bool,
}

#[derive(Debug, Serialize)]
struct Entry {
    anchor: String,
    text: String,
}

#[derive(Debug, Serialize)]
struct Term {
    link: Link,
    about: String,
    heard: Heard,
}

#[derive(Debug, Serialize)]
struct SentenceView {
    id: String,
    text: String,
    heard: Heard,
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let mut files = Vec::new();
    for (index, ready) in course.lessons.iter().enumerate() {
        let (address, one_file) = (addresses::lesson(&ready.slug), addresses::one_file(&ready.slug));
        let decisions = &course.decisions;
        files.extend(decisions.page(&[ready], &address, || in_the_site(course, index, ready, press))?);
        files.extend(decisions.page(&[ready], &one_file, || alone(course, ready, press))?);
    }
    Ok(files)
}

fn in_the_site(course: &Course, index: usize, ready: &Ready, press: &Press) -> Result<OutputFile, Failure> {
    let address = addresses::lesson(&ready.slug);
    let links = Links::from_page(&address);
    let page = pieces::page(course, "lesson-page", &ready.title, &address, ready.labels);
    let mut view = lesson_view(course, ready, &links);
    view.previous = index
        .checked_sub(1)
        .and_then(|index| course.lessons.get(index))
        .map(|ready| links.lesson(ready));
    view.next = course.lessons.get(index + 1).map(|ready| links.lesson(ready));
    view.one_file = links.to("", &addresses::one_file(&ready.slug)).href;
    press.print(&address, "lesson.html", &page, ready.labels, ("lesson", &view))
}

/// The same lesson as one file, to send to a telephone: nothing in it leads into the site.
fn alone(course: &Course, ready: &Ready, press: &Press) -> Result<OutputFile, Failure> {
    let address = addresses::one_file(&ready.slug);
    let mut page = pieces::page(course, "lesson-page alone", &ready.title, &address, ready.labels);
    page.alone = true;
    page.canonical = course.canonical(&addresses::lesson(&ready.slug));
    page.style = [STYLE, PLAYER_STYLE.1].concat();
    page.nav.clear();
    let view = lesson_view(course, ready, &Links::alone());
    press.print(&address, "lesson.html", &page, ready.labels, ("lesson", &view))
}

fn lesson_view(course: &Course, ready: &Ready, links: &Links) -> LessonView {
    let lesson = ready.lesson();
    let labels = ready.labels;
    let mut patterns = pattern_view::patterns(ready, links, "");
    let near_to_far = leaning_view::describe(lesson, course, &ready.compas, labels, &mut patterns);
    let within = |caution: &&crate::music::lesson::Caution| pattern_view::about(caution, &lesson.patterns).is_none();
    let cautions: Vec<CautionView> = lesson
        .cautions
        .iter()
        .filter(within)
        .map(|caution| pattern_view::caution_view(ready, links, caution))
        .collect();
    let advice = lesson.advice.iter().map(|advice| CautionView {
        counts: String::new(),
        text: capital(advice.value.trim()),
        heard: links.heard(ready, advice.place, true),
    });
    let player = match &ready.recording {
        Recording::File { address, video } if !links.alone => Some(PlayerView {
            src: format!("{}{address}", links.root),
            video: *video,
        }),
        _ => None,
    };
    let compas_words = summary::compas_words(&ready.compas, labels);
    let row = if ready.compas.counts > 0 {
        compas_row(&ready.compas, &CompasRow::default(), None)
    } else {
        String::new()
    };
    let mut view = LessonView {
        eyebrow: eyebrow(ready),
        title: ready.title.clone(),
        unreviewed: lesson.reviewed.is_none(),
        checked: lesson.reviewed.as_ref().map_or(String::new(), |date| {
            labels.fill("checked", &[("date", date.value.trim())])
        }),
        compas_row: if row.is_empty() && !compas_words.is_empty() {
            " ".to_owned()
        } else {
            row
        },
        compas_words: capital(&compas_words),
        compas_heard: compas_heard(ready, links),
        facts: summary::facts(course, ready, links),
        needs: lesson
            .needs
            .iter()
            .map(|need| reference(course, links, &need.value, &need.value.replace('-', " ")))
            .collect(),
        player,
        practice: practised(course, ready, links),
        contents: Vec::new(),
        in_words: labels
            .get(if ready.compas.free { "in_words_free" } else { "in_words" })
            .to_owned(),
        row_count: labels
            .get(if ready.compas.free { "row_event" } else { "row_count" })
            .to_owned(),
        patterns,
        near_to_far,
        cautions,
        advice: advice.collect(),
        techniques: techniques(ready, links),
        terms: terms(ready, links),
        sentences: sentences(ready, links),
        see_also: see_also(course, ready, links),
        one_file: None,
        previous: None,
        next: None,
    };
    view.contents = contents(&view, labels);
    view
}

fn practised(course: &Course, ready: &Ready, links: &Links) -> Option<PracticeView> {
    let data = page_data(&[ready.lesson()], course.palos);
    let mut view = practice(&data, &ready.slug, ready.labels, links)?;
    let page = practice_page::of_lesson(ready).filter(|_| !links.alone);
    view.page = page.map(|address| links.to(ready.labels.get("practice_link"), &address));
    Some(view)
}

fn eyebrow(ready: &Ready) -> String {
    ready.labels.fill("lesson_number", &[("n", &ready.number.to_string())])
}

fn compas_heard(ready: &Ready, links: &Links) -> Vec<Heard> {
    let meter = &ready.lesson().meter;
    let counts = meter.beats.as_ref().map(|beats| beats.place);
    let accents = meter.accents.first().map(|accent| accent.place);
    let mut heard: Vec<Heard> = counts
        .into_iter()
        .chain(accents)
        .map(|place| links.heard(ready, place, true))
        .collect();
    heard.dedup();
    heard
}

fn contents(view: &LessonView, labels: &super::labels::Labels) -> Vec<Entry> {
    let patterns = view.patterns.iter().map(|pattern| Entry {
        anchor: pattern.anchor.clone(),
        text: pattern.name.clone(),
    });
    let mut entries: Vec<Entry> = patterns.collect();
    let sections = [
        ("cautions", "cautions", !view.cautions.is_empty()),
        ("advice", "advice", !view.advice.is_empty()),
        ("practice", "practice_title", view.practice.is_some()),
        (
            "trade-words",
            "trade_words",
            !view.terms.is_empty() || !view.techniques.is_empty(),
        ),
        ("words", "words_title", !view.sentences.is_empty()),
    ];
    for (anchor, key, _) in sections.into_iter().filter(|(_, _, there)| *there) {
        entries.push(Entry {
            anchor: anchor.to_owned(),
            text: labels.get(key).to_owned(),
        });
    }
    entries
}

/// A lesson or palo that is pointed at, by id; plain words when the course has neither.
fn reference(course: &Course, links: &Links, target: &str, words: &str) -> Link {
    if let Some(ready) = course.lesson(target) {
        return links.lesson(ready);
    }
    match course.palo_slugs().into_iter().find(|slug| *slug == target) {
        Some(slug) => links.to(words, &addresses::palo(&addresses::slug(slug))),
        None => Link::plain(words),
    }
}

fn see_also(course: &Course, ready: &Ready, links: &Links) -> Vec<Link> {
    let mut out: Vec<Link> = Vec::new();
    let own = |target: &str| target == ready.lesson().id || Some(target) == ready.palo_slug();
    for reference_said in ready
        .lesson()
        .links
        .iter()
        .filter(|link| !link.announced && !own(&link.target))
    {
        let link = reference(course, links, &reference_said.target, &reference_said.words);
        if (link.href.is_some() || links.alone) && !out.contains(&link) {
            out.push(link);
        }
    }
    out
}

fn techniques(ready: &Ready, links: &Links) -> Vec<Term> {
    let mut out: Vec<Term> = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for used in &ready.lesson().techniques {
        let Some(entry) = technique(&used.id).filter(|entry| !seen.contains(&entry.id.as_str())) else {
            continue;
        };
        seen.push(&entry.id);
        out.push(Term {
            link: links.to(entry.name.of(ready.labels.language), &addresses::technique(&entry.id)),
            about: entry.about.of(ready.labels.language).to_owned(),
            heard: links.heard(ready, used.place, true),
        });
    }
    out
}

/// The glossary's words that the published sentences use.
fn terms(ready: &Ready, links: &Links) -> Vec<Term> {
    let texts: Vec<String> = ready
        .published
        .sentences
        .iter()
        .map(|sentence| padded(&sentence.text))
        .collect();
    let used = |entry: &&GlossaryEntry| {
        let forms = std::iter::once(&entry.term).chain(&entry.also).map(|form| padded(form));
        forms
            .into_iter()
            .any(|form| texts.iter().any(|text| text.contains(&form)))
    };
    let term = |entry: &GlossaryEntry| Term {
        link: links.to(entry.term.clone(), &addresses::term(&addresses::slug(&entry.term))),
        about: entry.about.of(ready.labels.language).to_owned(),
        heard: Heard::default(),
    };
    glossary().iter().filter(used).map(term).collect()
}

/// Folded words with single spaces between and around them, so that whole words are found.
fn padded(text: &str) -> String {
    let folded = fold(text).text;
    let words: Vec<&str> = folded
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    format!(" {} ", words.join(" "))
}

fn sentences(ready: &Ready, links: &Links) -> Vec<SentenceView> {
    let view = |sentence: &super::published::Sentence| SentenceView {
        id: sentence.id.clone(),
        text: sentence.text.clone(),
        heard: Heard {
            time: sentence.time.map(|time| time.to_string()),
            href: sentence
                .time
                .filter(|_| !(links.alone && ready.recording.is_file()))
                .and_then(|time| ready.recording.at(time, &links.root)),
            seconds: sentence.time.map_or(0, |time| time.seconds()),
            ..Heard::default()
        },
    };
    ready.published.sentences.iter().map(view).collect()
}

//! Practice across lessons: the page that mixes what several lessons of a palo teach.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    dead_code,
    reason = "a test may panic, and shares its lessons with others"
)]

#[path = "pages/by_hand.rs"]
mod by_hand;
#[path = "pages/fixtures.rs"]
mod fixtures;

use compasario::disk::OutputFile;
use compasario::music::lesson::Lesson;
use compasario::music::palo::PaloTable;
use compasario::pages::{self, Choices, CourseHead, SiteInput};
use fixtures::Course;

fn build(course: &Course, choices: Choices) -> Vec<OutputFile> {
    let input = SiteInput {
        head: &CourseHead::default(),
        lessons: &course.lessons,
        folder: &course.folder,
        palos: PaloTable::ours(),
        publication: pages::Publication::default(),
        choices,
    };
    pages::site(&input).unwrap()
}

fn text<'a>(files: &'a [OutputFile], path: &str) -> &'a str {
    let file = files.iter().find(|file| file.path == path).unwrap();
    std::str::from_utf8(&file.bytes).unwrap()
}

/// Two lessons of one palo have a page of practice together: the versions of both, each drawing told apart.
#[test]
fn lessons_of_a_palo_are_practised_together() {
    let lesson = |id: &str| Lesson {
        id: id.to_owned(),
        ..by_hand::from_twelve()
    };
    let files = build(&by_hand::course(vec![lesson("one"), lesson("two")]), Choices::default());
    let paths: Vec<&str> = files.iter().map(|file| file.path.as_str()).collect();
    assert!(paths.contains(&"practice/one.html") && paths.contains(&"practice/two.html"));
    let palo = paths.iter().find(|path| path.starts_with("practice/palos/")).unwrap();
    let page = text(&files, palo);
    assert!(page.contains("data-lesson=\"0\"") && page.contains("data-lesson=\"1\""));
    let json = page.split_once("data-score=\"practice\">").unwrap().1;
    let data: compasario::practice::PageData = serde_json::from_str(json.split_once("</script>").unwrap().0).unwrap();
    let lessons: std::collections::BTreeSet<usize> = data.versions.iter().map(|version| version.lesson).collect();
    assert_eq!(lessons.into_iter().collect::<Vec<_>>(), [0, 1]);
    let across = |join: &&compasario::practice::joins::Join| {
        data.versions[join.from].lesson != data.versions[join.to].lesson && join.allowed
    };
    assert!(
        data.joins.iter().any(|join| across(&join)),
        "a version of one may follow one of the other"
    );
    let mixed = data.mixes.iter().any(|drill| {
        let of = |stop: &usize| data.versions[*stop].lesson;
        drill.mix.stops.iter().any(|stop| of(stop) == 0) && drill.mix.stops.iter().any(|stop| of(stop) == 1)
    });
    assert!(mixed, "{:?}", data.remarks);
    let from = text(&files, palo.strip_prefix("practice/").unwrap());
    assert!(from.contains(&format!("../{palo}")), "reached from the palo");
}

/// Lessons with a core each: the page says which is whose, and what becomes of two capos.
#[test]
fn versions_say_whose_they_are_and_at_which_capo() {
    let lesson = |id: &str, title: &str, capo: Option<u8>| Lesson {
        id: id.to_owned(),
        title: Some(by_hand::said(title.to_owned())),
        capo: capo.map(by_hand::said),
        ..by_hand::from_twelve()
    };
    let table = [
        (
            [("The stairs", None), ("The yard", None)],
            "core (The stairs) 0, core (The yard) 0",
            "",
        ),
        (
            [("The stairs", Some(2)), ("The yard", None)],
            "core (The stairs) 2, core (The yard) 0",
            "The stairs: capo at fret 2; The yard: no capo.",
        ),
        (
            [("The yard", Some(2)), ("The yard", Some(2))],
            "core (The yard) 2, core (The yard) (2) 2",
            "",
        ),
    ];
    for (titles, versions, remark) in table {
        let [one, two] = titles.map(|(title, capo)| (title, capo));
        let lessons = [lesson("one", one.0, one.1), lesson("two", two.0, two.1)];
        let data = compasario::practice::page_data(&[&lessons[0], &lessons[1]], PaloTable::ours());
        let cores = data.versions.iter().filter(|version| version.name.starts_with("core"));
        let cores: Vec<String> = cores
            .map(|version| format!("{} {}", version.name, version.capo))
            .collect();
        assert_eq!(cores.join(", "), versions);
        let said = data.remarks.iter().find(|remark| remark.contains("capo"));
        let said = said.map_or("", |said| said.split(" A version").next().unwrap_or(""));
        assert_eq!(said, remark);
        let mut names: Vec<&String> = data.versions.iter().map(|version| &version.name).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), data.versions.len(), "no two of one name");
    }
}

/// Lessons for a guitar tuned otherwise are not mixed with the others.
#[test]
fn one_tuning_at_a_time() {
    let lesson = |id: &str, tuning: Option<[u8; 6]>| Lesson {
        id: id.to_owned(),
        tuning: tuning.map(by_hand::said),
        ..by_hand::from_twelve()
    };
    let dropped = Some([64, 59, 55, 50, 45, 38]);
    let standard = Some([64, 59, 55, 50, 45, 40]);
    let table = [
        (None, None, true),
        (None, standard, true),
        (None, dropped, false),
        (dropped, dropped, true),
    ];
    for (one, two, together) in table {
        let files = build(
            &by_hand::course(vec![lesson("one", one), lesson("two", two)]),
            Choices::default(),
        );
        let found = files.iter().any(|file| file.path.starts_with("practice/palos/"));
        assert_eq!(found, together, "{one:?} and {two:?}");
    }
}

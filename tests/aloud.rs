//! Random lessons said aloud as a teacher may say them, in English and in Spanish: what is read of them, form by form.
//!
//! The forms stand in `tests/aloud/forms.en.toml` and `forms.es.toml`. `cargo test --test aloud -- --nocapture` prints the
//! table; `ALOUD=WORDS` shows every fault that holds these words, `ALOUD_TEXTS=FOLDER` keeps the texts.

#[path = "aloud/chance.rs"]
mod chance;
#[path = "aloud/forms.rs"]
mod forms;
#[path = "aloud/judged.rs"]
mod judged;
#[path = "aloud/lesson.rs"]
mod lesson;
#[path = "aloud/table.rs"]
mod table;
#[path = "aloud/told.rs"]
mod told;
#[path = "aloud/words.rs"]
mod words;

use std::collections::BTreeMap;
use std::path::Path;

use chance::Chance;
use compasario::{intake, music, pipeline};
use forms::{Forms, Make};
use judged::Tally;
use table::Table;
use told::Told;
use words::Voice;

/// Lessons of each language and make.
const LESSONS: u64 = 60;

/// Of a hundred things said in a language: at least so many read rightly, at most so many wrongly.
const BOUNDS: [(&str, f64, f64); 2] = [("en", 99.1, 0.5), ("es", 97.6, 1.1)];

fn ending(language: &str, make: Make) -> &'static str {
    match (language, make) {
        ("en", Make::Typed) => "notes.txt",
        ("en", _) => "spoken.txt",
        (_, Make::Typed) => "es.notes.txt",
        _ => "es.spoken.txt",
    }
}

/// Every lesson of a language and make in a folder of its own: the same lessons in each make.
fn said_aloud(language: &str, forms: &Forms, make: Make) -> BTreeMap<String, Told> {
    let mut lessons = BTreeMap::new();
    for seed in 0..LESSONS {
        let lesson = lesson::lesson(&mut Chance::new(seed));
        let voice = Voice {
            forms,
            make,
            digits: seed.is_multiple_of(2),
        };
        let told = told::told(&lesson, &voice, seed * 3 + make as u64);
        lessons.insert(format!("{language}-{seed:03}"), told);
    }
    lessons
}

fn read(
    lessons: &BTreeMap<String, Told>,
    language: &str,
    make: Make,
    folder: &Path,
) -> BTreeMap<String, music::lesson::Lesson> {
    let ending = ending(language, make);
    for (name, told) in lessons {
        std::fs::write(folder.join(format!("{name}.{ending}")), &told.text).expect("the note is written");
        if let Ok(kept) = std::env::var("ALOUD_TEXTS") {
            let file = Path::new(&kept).join(format!("{name}-{make:?}.{ending}"));
            std::fs::write(file, &told.text).expect("the folder for the texts");
        }
    }
    let folder = intake::load(folder).expect("the notes are there");
    let read = pipeline::read_lessons(&folder, &|_, _| {});
    read.into_iter()
        .map(|(lesson, _)| (lesson.id.clone(), lesson))
        .collect()
}

#[test]
fn lessons_said_aloud_are_read() {
    let mut short = Vec::new();
    for (language, least, most) in BOUNDS {
        let forms = if language == "en" {
            Forms::english()
        } else {
            Forms::spanish()
        };
        let mut table = Table::default();
        for make in Make::ALL {
            let lessons = said_aloud(language, &forms, make);
            let folder = tempfile::tempdir().expect("a folder for the notes");
            let read = read(&lessons, language, make, folder.path());
            for (name, told) in &lessons {
                let none = music::lesson::Lesson::default();
                let lesson = read.get(name).unwrap_or(&none);
                table.take(make, told, judged::judged(told, lesson));
            }
        }
        println!("{}", table.printed(language));
        let Tally { said, right, wrong, .. } = table.total();
        let of = |part: usize| 100.0 * part as f64 / said as f64;
        if of(right) < least || of(wrong) > most {
            short.push(format!(
                "{language}: {:.1} of 100 right (at least {least}), {:.1} wrong (at most {most})",
                of(right),
                of(wrong)
            ));
        }
    }
    assert!(short.is_empty(), "{}", short.join("\n"));
}

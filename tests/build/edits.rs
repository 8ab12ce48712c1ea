//! A small course, and what a teacher does to it.

use std::fs;
use std::path::Path;

/// The notes to begin with: every kind, one lesson of two files, one that another needs, a private line, a name.
pub const NOTES: &[(&str, &str)] = &[
    (
        "tangos-one.notes.txt",
        "title: Tangos, the first\npalo: tangos\norder: 1\nreviewed: 2026-01-02\n\n[0:01] count 4, accents 2 3 4. tempo 96\n[0:05] A x02220, Bb x13331\n[0:09] 1: i dn\n\
         [0:12] 2: i dn, & i up\n[0:15] 3: p dn\n[0:18] 4: golpe with a\n[0:20] (private) Ana's zwickmuehle\n[0:25] V1, replaces 3-4\n[0:27] 3: i dn, & i up\n[0:30] 4: p dn\n",
    ),
    (
        "tangos-one.spoken.txt",
        "[0:00] So this is tangos. Careful, the thumb rests on the fourth string.\n\n[0:31] Loop it four times.\n",
    ),
    (
        "solea-one.notes.txt",
        "title: Soleá\npalo: solea\nneeds: tangos-one\npeople: Ana, Luis\n\n[0:01] count 12, accents 3 6 8 10 12\n[0:04] E 022100, F 133211\n\
         [0:08] 1-2 E: i dn, i dn\n[0:12] 3: p dn, F\n[0:16] watch out, Luis: finger 3 off before 10\n",
    ),
    (
        "rumba-uno.es.notes.txt",
        "compas de 4. tempo 100\nAm x02210\n1: p ab\n2: i ab, y i arr\n3: p ab\n4: i arr\n",
    ),
    (
        "fandangos.vtt",
        "WEBVTT\n\n00:01.000 --> 00:04.000\nFandangos in E phrygian, count\n\n00:04.000 --> 00:06.000\ntwelve, accents on 1, 4, 7 and 10.\n",
    ),
];

pub fn write(folder: &Path, name: &str, text: &str) {
    fs::write(folder.join(name), text).unwrap();
}

pub fn begin(folder: &Path) {
    for (name, text) in NOTES {
        write(folder, name, text);
    }
}

/// What is done to a file: its text before, and after; None when there is to be no such file.
type Change = fn(&str, usize) -> Option<String>;

fn head(text: &str, name: &str, value: &str) -> String {
    let lines = text.lines().filter(|line| !line.starts_with(&format!("{name}:")));
    format!("{name}: {value}\n{}\n", lines.collect::<Vec<_>>().join("\n"))
}

/// File, and what is done to it; the number makes each time another.
const EDITS: &[(&str, Change)] = &[
    ("tangos-one.notes.txt", |text, n| {
        Some(text.replace("i dn", if n % 2 == 0 { "m dn" } else { "i dn" }))
    }),
    ("tangos-one.notes.txt", |text, n| {
        Some(head(text, "title", &format!("Tangos number {}", n % 3)))
    }),
    ("tangos-one.notes.txt", |text, n| {
        Some(head(text, "order", &(n % 4).to_string()))
    }),
    ("tangos-one.notes.txt", |text, n| {
        Some(format!("{text}[1:{:02}] 4: p dn\n", n % 60))
    }),
    ("tangos-one.notes.txt", |text, _| Some(text.replace("\n\n", "\n\n\n"))),
    ("tangos-one.notes.txt", |text, n| {
        Some(text.replace("tempo 96", &format!("tempo {}", 90 + n % 20)))
    }),
    ("tangos-one.notes.txt", |text, _| Some(text.replace("(private) ", ""))),
    ("tangos-one.notes.txt", |text, _| {
        Some(text.replace("Ana's", "(private) Ana's"))
    }),
    ("tangos-one.spoken.txt", |text, n| {
        Some(if n % 2 == 0 {
            text.replace("four", "eight")
        } else {
            text.replace("eight", "four")
        })
    }),
    ("tangos-one.spoken.txt", |_, n| {
        (n % 2 == 0).then(|| NOTES[1].1.to_owned())
    }),
    ("solea-one.notes.txt", |text, n| {
        Some(head(text, "people", if n % 2 == 0 { "Ana" } else { "Ana, Luis" }))
    }),
    ("solea-one.notes.txt", |text, n| {
        Some(head(text, "needs", if n % 2 == 0 { "rumba-uno" } else { "tangos-one" }))
    }),
    ("solea-one.notes.txt", |text, n| {
        Some(head(
            text,
            "reviewed",
            if n % 2 == 0 { "2026-03-04" } else { "2026-03-05" },
        ))
    }),
    ("solea-one.notes.txt", |text, _| {
        Some(text.replace("F 133211", "F xx3211"))
    }),
    ("rumba-uno.es.notes.txt", |_, n| {
        (n % 3 != 0).then(|| NOTES[3].1.to_owned())
    }),
    ("rumba-uno.es.notes.txt", |text, _| Some(text.replace("arr", "ab"))),
    ("fandangos.vtt", |text, n| {
        Some(text.replace("in E", if n % 2 == 0 { "in  E" } else { "in A" }))
    }),
    ("alegrias.notes.txt", |_, n| {
        (n % 2 == 0).then(|| {
            format!(
                "lesson: alegrias\npalo: alegrias\n\n[0:0{}] count 12\n[0:12] 1: i dn\n",
                n % 10
            )
        })
    }),
    ("zz.notes.txt", |_, n| {
        (n % 2 == 1).then(|| "lesson: tangos-one\n\n[2:00] loop x6\n".to_owned())
    }),
    ("course.toml", |_, n| {
        (n % 3 != 0).then(|| format!("title = \"Course {}\"\nabout = \"Ana teaches.\"\n", n % 2))
    }),
    ("palos.toml", |_, n| {
        let counted = if n % 2 == 0 { "tangos" } else { "alegrias" };
        let own = format!(
            "[[palo]]\nslug = \"solea\"\nname = {{ en = \"soleá\", es = \"soleá\" }}\nfamily = \"solea\"\n\
             about = {{ en = \"Ours {n}.\", es = \"La nuestra.\" }}\nsource = \"mine\"\ncounted_like = \"{counted}\"\n"
        );
        match n % 4 {
            0 => None,
            1 => Some("nonsense".to_owned()),
            _ => Some(own),
        }
    }),
    ("words.toml", |_, n| match n % 4 {
        0 => None,
        1 => Some("nonsense".to_owned()),
        _ => Some(format!("[golpe]\nen = [\"tapita{}\"]\n", n % 3)),
    }),
    ("rumba-uno.es.notes.txt", |text, n| {
        Some(if n % 2 == 0 {
            text.replace("1: p", "1: tapita1 p")
        } else {
            text.replace("tapita1 ", "")
        })
    }),
    ("cover.jpg", |_, n| (n % 2 == 0).then(|| "no note".to_owned())),
];

/// A note gets another name, and back.
fn rename(folder: &Path) -> String {
    let names = ["solea-one.notes.txt", "a-solea.notes.txt"].map(|name| folder.join(name));
    let [one, two] = &names;
    if one.exists() {
        fs::rename(one, two).unwrap();
    } else if two.exists() {
        fs::rename(two, one).unwrap();
    }
    "solea renamed".to_owned()
}

/// One edit: which, and how.
pub fn edit(folder: &Path, which: usize, number: usize) -> String {
    if which % (EDITS.len() + 1) == EDITS.len() {
        return rename(folder);
    }
    let which = which % (EDITS.len() + 1);
    let (name, change) = EDITS[which % EDITS.len()];
    let path = folder.join(name);
    let before = fs::read_to_string(&path).unwrap_or_default();
    match change(&before, number) {
        Some(after) => fs::write(&path, after).unwrap(),
        None if path.exists() => fs::remove_file(&path).unwrap(),
        None => {}
    }
    format!("edit {} of {name}", which % EDITS.len())
}

/// Numbers that look random and are the same each time (splitmix64, Steele, Lea and Flood 2014; constants from memory).
pub fn scattered(seed: u64) -> u64 {
    let mut state = seed.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    state = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    state = (state ^ (state >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    state ^ (state >> 31)
}

use super::*;

fn accents(palo: &str, counts: i64) -> Vec<String> {
    let palo = find(palo).expect("a palo of ours");
    let of = |compas: &Compas| -> Vec<String> { compas.accents.iter().map(said).collect() };
    palo.counted_in(counts).flat_map(of).collect()
}

fn said(set: &AccentSet) -> String {
    let words: Vec<String> = set.at.iter().map(ToString::to_string).collect();
    words.join(" ")
}

#[test]
fn every_palo_of_the_corpus_is_here() {
    // The slugs that tests/corpus/README.md names, and the rest of the trade's common ones.
    let slugs = "solea solea-por-buleria buleria alegrias siguiriya tangos tientos rumba fandangos-de-huelva sevillanas \
                 guajira farruca garrotin tanguillos cantinas cana petenera zapateado malaguena taranta granaina polo \
                 martinete minera rondena taranto";
    for slug in slugs.split_whitespace() {
        assert!(find(slug).is_some(), "{slug}");
    }
}

#[test]
fn counts_are_as_published() {
    // Siguiriya: five uneven counts, short short long long short, twelve pulses [KL, W-SIG].
    let siguiriya = find("siguiriya").and_then(Palo::usual).expect("a compás");
    assert_eq!((siguiriya.counts, siguiriya.pulses()), (5, 12));
    assert_eq!(siguiriya.lengths, [2, 2, 3, 3, 2]);
    assert!(!siguiriya.is_even());
    // Bulería: twelve, begun on 12; or six; or three in double time [W-BUL].
    let buleria = find("buleria").expect("a palo");
    let counts: Vec<i64> = buleria.compas.iter().map(|compas| compas.counts).collect();
    assert_eq!(counts, [12, 6, 3]);
    assert_eq!(buleria.usual().map(Compas::first), Some(12));
    // Guajira and petenera begin on 12 [W-GUA, W-PET].
    for slug in ["guajira", "petenera"] {
        assert_eq!(find(slug).and_then(Palo::usual).map(Compas::first), Some(12), "{slug}");
    }
}

#[test]
fn every_attested_accent_set_is_kept() {
    // Sources beside each set in palos.toml.
    let table: [(&str, i64, &[&str]); 7] = [
        ("solea", 12, &["3 6 8 10 12"]),
        ("buleria", 12, &["12 3 6 8 10", "12 3 7 8 10"]),
        ("tangos", 4, &["2 3 4", "2 4"]),
        ("tientos", 4, &["2 3 4", "1 2+1/2"]),
        ("fandangos-de-huelva", 6, &["3 5", "1 4", "3 6"]),
        ("siguiriya", 12, &["1 3 5 8 11", "8 10 12 3 6"]),
        ("rumba", 4, &["1 2+1/2 4"]),
    ];
    for (palo, counts, sets) in table {
        let kept = accents(palo, counts);
        for set in sets {
            assert!(
                kept.iter().any(|one| one == set),
                "{palo} in {counts}: {set} not in {kept:?}"
            );
        }
    }
}

#[test]
fn accents_that_are_part_of_a_set_fit_it() {
    let solea = find("solea").and_then(Palo::usual).expect("a compás");
    let at = |counts: &[i64]| -> Vec<Position> { counts.iter().copied().map(Position::count).collect() };
    assert!(solea.holds_accents(&at(&[3, 6, 8, 10, 12])));
    assert!(solea.holds_accents(&at(&[3, 10, 12])));
    assert!(!solea.holds_accents(&at(&[2, 5, 9, 11])));
}

#[test]
fn tempo_ranges_are_as_published() {
    // Per counted beat [HOF], [W-BUL], [W-ALG], [W-RUM].
    let table = [
        ("solea", 70, 100),
        ("buleria", 195, 240),
        ("buleria", 180, 240),
        ("alegrias", 120, 170),
        ("tangos", 110, 150),
        ("rumba", 100, 120),
    ];
    for (slug, low, high) in table {
        let palo = find(slug).expect("a palo");
        let found = palo.tempo.iter().any(|range| (range.low, range.high) == (low, high));
        assert!(found, "{slug} {low} to {high}");
    }
}

#[test]
fn free_palos_are_not_counted_and_the_others_are_complete() {
    for palo in table() {
        assert_eq!(palo.free, palo.compas.is_empty(), "{}", palo.slug);
        assert_eq!(palo.free, palo.family == Family::Free, "{}", palo.slug);
        assert_eq!(palo.free, palo.tempo.is_empty(), "{}", palo.slug);
        assert!(palo.keys.is_empty() != palo.guitar, "{}", palo.slug);
        for compas in &palo.compas {
            let name = format!("{} in {}", palo.slug, compas.counts);
            assert!(!compas.accents.is_empty(), "{name} has no accents");
            assert!(!compas.palmas.is_empty(), "{name} has no palmas");
            assert!(!compas.starts.is_empty(), "{name} begins nowhere");
        }
    }
}

#[test]
fn every_source_is_in_the_list() {
    for palo in table() {
        let mut sources = vec![&palo.source];
        sources.extend(palo.tempo.iter().map(|range| &range.source));
        sources.extend(palo.keys.iter().map(|key| &key.source));
        sources.extend(palo.remarks.iter().map(|remark| &remark.source));
        for compas in &palo.compas {
            sources.push(&compas.source);
            sources.extend(compas.starts.iter().map(|start| &start.source));
            sources.extend(compas.spoken.iter().map(|row| &row.source));
            sources.extend(compas.groupings.iter().map(|grouping| &grouping.source));
            sources.extend(compas.accents.iter().map(|set| &set.source));
            sources.extend(compas.palmas.iter().map(|part| &part.source));
        }
        for source in sources {
            assert!(source.is_known(), "{}: {}", palo.slug, source.0);
        }
    }
}

const OWN: &str = r#"[[palo]]
slug = "zorongo"
name = { en = "zorongo", es = "zorongo" }
family = "tangos"
about = { en = "An old song.", es = "Un cante antiguo." }
source = "as my aunt clapped it"
tempo = [{ low = 90, high = 100, per = "count", counts = 8, source = "my aunt" }]

[[palo.compas]]
counts = 8
source = "my aunt"
starts = [{ count = 1, source = "my aunt" }]
accents = [{ at = [1, "4+1/2"], source = "my aunt" }]
palmas = [{ layer = "contra", sound = "sordas", level = 40, claps = "between", source = "my aunt" }]
"#;

#[test]
fn a_teachers_own_palo_is_added_and_one_of_ours_is_replaced() {
    let table = PaloTable::ours().with(OWN).expect("a sound file");
    let zorongo = table.find("zorongo").expect("added");
    assert!(zorongo.own);
    assert_eq!(zorongo.usual().map(|compas| compas.palmas.len()), Some(1));
    assert_eq!(table.iter().count(), PaloTable::ours().iter().count() + 1);

    let over = OWN.replace("\"zorongo\"\nname", "\"solea\"\nname");
    let table = PaloTable::ours().with(&over).expect("a sound file");
    assert_eq!(table.find("solea").map(|palo| palo.own), Some(true));
    assert_eq!(table.iter().count(), PaloTable::ours().iter().count());
}

#[test]
fn a_teachers_own_palo_may_be_counted_like_one_of_ours() {
    let file = "[[palo]]\nslug = \"nana\"\nname = { en = \"nana\", es = \"nana\" }\nfamily = \"solea\"\n\
                about = { en = \"Lullaby.\", es = \"Nana.\" }\nsource = \"mine\"\ncounted_like = \"solea\"\n";
    let table = PaloTable::ours().with(file).expect("a sound file");
    assert_eq!(
        table.find("nana").and_then(Palo::usual),
        find("solea").and_then(Palo::usual)
    );
}

#[test]
fn what_is_wrong_with_a_file_is_said_with_its_line() {
    // What is changed in the sound file above, the line, what is said.
    let table = [
        (
            "counts = 8\nsource",
            "counts = 0\nsource",
            10,
            "a compás of 0 counts is outside of 1 to 64",
        ),
        (
            "[1, \"4+1/2\"]",
            "[1, 9]",
            13,
            "accent on 9 is outside of the compás of 8 counts",
        ),
        ("[1, \"4+1/2\"]", "[1, \"4+2/2\"]", 13, "not a position such as 2+1/2"),
        ("level = 40", "level = 101", 14, "the level 101 is above 100"),
        (
            "low = 90",
            "low = 900",
            7,
            "the tempo goes from 900 to 100: give two figures above 0, the lower one first",
        ),
        (
            "counts = 8, source",
            "counts = 3, source",
            7,
            "the tempo is for 3 counts, and the palo is not counted so",
        ),
        (
            "\"zorongo\"\nname",
            "\"Zorongo\"\nname",
            2,
            "`Zorongo` cannot be a palo's slug",
        ),
        ("about", "abbout", 5, "unknown field `abbout`"),
        (
            "source = \"as",
            "free = true\nsource = \"as",
            2,
            "`zorongo` is free, so it can have no compás and no tempo",
        ),
    ];
    for (from, to, line, words) in table {
        assert!(OWN.contains(from), "{from}");
        let error = PaloTable::ours().with(&OWN.replacen(from, to, 1)).expect_err(to);
        assert_eq!(error.line, line, "{to}: {error}");
        assert!(error.to_string().contains(words), "{to}: {error}");
    }
}

#[test]
fn claps_between_uneven_counts_stand_on_the_inner_pulses() {
    let siguiriya = find("siguiriya").and_then(Palo::usual).expect("a compás");
    let contra = siguiriya
        .palmas
        .iter()
        .find(|part| part.layer == Layer::Contra)
        .expect("a part");
    let claps: Vec<String> = contra.claps.iter().map(ToString::to_string).collect();
    assert_eq!(claps, ["1+1/2", "2+1/2", "3+1/3", "3+2/3", "4+1/3", "4+2/3", "5+1/2"]);
}

#[test]
fn a_way_of_saying_it_means_one_palo_and_is_folded() {
    let mut seen: Vec<(String, &str)> = Vec::new();
    for palo in table() {
        let name = crate::text::fold(&palo.name.es).text;
        for said in palo.said.iter().chain([&name]) {
            assert_eq!(crate::text::fold(said).text, *said, "{}", palo.slug);
            let other = seen.iter().find(|(words, slug)| words == said && *slug != palo.slug);
            assert!(other.is_none(), "{said} is {} and {other:?}", palo.slug);
            seen.push((said.clone(), &palo.slug));
        }
    }
}

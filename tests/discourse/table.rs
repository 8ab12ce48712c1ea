//! The tables of `tests/discourse/`: what they say, and what the reader makes of their lessons.

use std::path::Path;

use compasario::music::hand::Finger;
use compasario::music::left_hand::{LeftAction, LeftEvent};
use compasario::music::lesson::Lesson;
use compasario::music::pattern::{Pattern, Role};
use compasario::music::position::Position;
use compasario::music::stroke::{Action, Stroke};
use compasario::pipeline;

/// One table: which files' rules it is about, and its cases.
pub struct Table {
    pub name: String,
    pub rules: Vec<String>,
    pub cases: Vec<Case>,
}

/// Some lines of a lesson, and what must come out of them.
pub struct Case {
    pub title: String,
    pub near_miss: bool,
    /// `typed English` and the like, with the lines of the note.
    pub notes: Vec<(String, String)>,
    /// All that must come out, in order.
    pub expected: Vec<String>,
    /// What must not come out.
    pub forbidden: Vec<String>,
}

pub fn parse(name: &str, text: &str) -> Result<Table, String> {
    let (mut rules, mut cases, mut near_miss) = (Vec::new(), Vec::<Case>::new(), None);
    for (number, line) in text.lines().enumerate() {
        let wrong = |what: &str| Err(format!("{name}.txt line {}: {what}: {line}", number + 1));
        if let Some(files) = line.strip_prefix("rule: ") {
            rules.extend(files.split(", ").map(str::to_owned));
        } else if line == "reads" || line == "near misses" {
            near_miss = Some(line == "near misses");
        } else if let Some(title) = line.strip_prefix("* ") {
            let Some(near_miss) = near_miss else {
                return wrong("a case stands under `reads` or `near misses`");
            };
            let title = title.to_owned();
            cases.push(Case {
                title,
                near_miss,
                notes: Vec::new(),
                expected: Vec::new(),
                forbidden: Vec::new(),
            });
        } else if let Some(case) = cases.last_mut() {
            if let Some(outcome) = line.strip_prefix("= ") {
                case.expected.push(outcome.to_owned());
            } else if let Some(outcome) = line.strip_prefix("! ") {
                case.forbidden.push(outcome.to_owned());
            } else if let Some(words) = line.strip_prefix("    ") {
                let Some((_, text)) = case.notes.last_mut() else {
                    return wrong("say first how the note was made (`typed English`)");
                };
                text.push_str(words);
                text.push('\n');
            } else if FILES.iter().any(|(kind, _)| *kind == line) {
                case.notes.push((line.to_owned(), String::new()));
            } else if let (true, Some((_, text))) = (line.is_empty(), case.notes.last_mut()) {
                text.push('\n');
            } else if !line.is_empty() {
                return wrong("neither text nor outcome");
            }
        }
    }
    Ok(Table {
        name: name.to_owned(),
        rules,
        cases,
    })
}

/// How a note was made, and the name of its file.
const FILES: [(&str, &str); 8] = [
    ("typed English", "lesson.notes.txt"),
    ("typed Spanish", "lesson.es.notes.txt"),
    ("spoken English", "lesson.spoken.txt"),
    ("spoken Spanish", "lesson.es.spoken.txt"),
    ("captions English", "lesson.vtt"),
    ("captions Spanish", "lesson.es.vtt"),
    ("corrections", "lesson.corrections.txt"),
    ("own words", "words.toml"),
];

/// The lesson that the reader makes of a case's notes, put into a folder of their own.
pub fn read(case: &Case) -> Lesson {
    let folder = tempfile::tempdir().expect("a folder for the notes");
    for (kind, text) in &case.notes {
        let file = FILES
            .iter()
            .find(|(known, _)| known == kind)
            .map_or("lesson.notes.txt", |(_, file)| *file);
        std::fs::write(folder.path().join(file), format!("{}\n", text.trim_end())).expect("the note is written");
    }
    lesson_in(folder.path())
}

fn lesson_in(folder: &Path) -> Lesson {
    let review = pipeline::review(folder).expect("the folder is read");
    review.lessons.into_iter().next().unwrap_or_default()
}

/// What a lesson says, a fact a line, in the words of the written form.
pub fn outcomes(lesson: &Lesson) -> Vec<String> {
    let mut lines = head(lesson);
    for pattern in &lesson.patterns {
        lines.extend(pattern_lines(pattern));
    }
    lines.extend(remarks(lesson));
    lines
}

fn head(lesson: &Lesson) -> Vec<String> {
    let mut lines = Vec::new();
    let mut fact = |name: &str, value: Option<String>| lines.extend(value.map(|value| format!("{name}: {value}")));
    fact("palo", lesson.palo.as_ref().map(|said| said.value.clone()));
    fact("counts", lesson.meter.beats.as_ref().map(|said| said.value.to_string()));
    fact("first", lesson.meter.first.as_ref().map(|said| said.value.to_string()));
    let accents: Vec<String> = lesson.meter.accents.iter().map(|said| said.value.to_string()).collect();
    fact("accents", (!accents.is_empty()).then(|| accents.join(" ")));
    fact(
        "key",
        lesson
            .key
            .as_ref()
            .map(|said| format!("{} {:?}", said.value.tonic, said.value.mode).to_lowercase()),
    );
    fact(
        "tempo",
        lesson
            .tempo
            .as_ref()
            .map(|said| format!("{}-{}", said.value.low, said.value.high)),
    );
    fact("capo", lesson.capo.as_ref().map(|said| said.value.to_string()));
    fact("rounds", lesson.repeats.as_ref().map(|said| said.value.to_string()));
    for chord in &lesson.chords {
        let shape = chord.shape.map(|shape| format!(" {shape}")).unwrap_or_default();
        fact("shape", Some(format!("{}{shape}", chord.name)));
    }
    lines
}

/// A core's counts go without saying; what takes the place of some of them opens with a line of its own.
fn pattern_lines(pattern: &Pattern) -> Vec<String> {
    let mut lines = Vec::new();
    if pattern.role != Role::Core {
        let span = pattern
            .span
            .map(|span| format!(" {}-{}", span.first, span.last))
            .unwrap_or_default();
        let on = pattern.runs_on.map(|at| format!(" on to {at}")).unwrap_or_default();
        lines.push(format!("{}{span}{on}", format!("{:?}", pattern.role).to_lowercase()));
    }
    let mut timed: Vec<(Position, u8, String)> = Vec::new();
    timed.extend(
        pattern
            .changes
            .iter()
            .map(|change| (change.at, 0, format!("({})", change.chord))),
    );
    timed.extend(pattern.left.iter().map(|event| (event.at, 1, left(event))));
    timed.extend(
        pattern
            .strokes
            .iter()
            .map(|stroke| (stroke.at, 2, stroke_words(stroke))),
    );
    timed.sort_by_key(|(at, order, _)| (*at, *order));
    lines.extend(timed.into_iter().map(|(at, _, words)| format!("{at}: {words}")));
    lines
}

fn remarks(lesson: &Lesson) -> Vec<String> {
    let mut lines = Vec::new();
    for caution in &lesson.cautions {
        let counts: Vec<String> = caution.counts.iter().map(Position::to_string).collect();
        lines.push(format!(
            "caution: {}",
            if counts.is_empty() {
                "no count".to_owned()
            } else {
                counts.join(" ")
            }
        ));
    }
    let claims = lesson.patterns.iter().flat_map(|pattern| &pattern.claims);
    lines.extend(claims.map(|claim| format!("claim: {}", claim_words(claim))));
    lines.extend(lesson.links.iter().map(|link| format!("link: {}", link.target)));
    lines.extend(
        lesson
            .misheard
            .iter()
            .map(|said| format!("misheard: {} as {}", said.heard, said.read_as)),
    );
    lines.extend(lesson.conflicts.iter().map(|said| format!("conflict: {}", said.about)));
    lines.extend(
        lesson
            .untold
            .iter()
            .map(|untold| format!("variation {} without strokes", untold.span)),
    );
    let unread = lesson.unread.iter();
    lines.extend(unread.map(|said| {
        let kind = if said.musical {
            "not understood"
        } else {
            "perhaps music"
        };
        format!("{kind}: {}", said.text)
    }));
    lines
}

fn claim_words(claim: &compasario::music::pattern::Claim) -> String {
    use compasario::music::pattern::ClaimAbout;
    let joined = |words: Vec<String>| words.join(" ");
    match &claim.about {
        ClaimAbout::Covers { span, chord } => {
            let chord = chord.as_ref().map(|chord| format!(" on {chord}")).unwrap_or_default();
            format!("covers {}-{}{chord}", span.first, span.last)
        }
        ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given,
        } => {
            format!("{per_count} to a count from {from} over {counts}, {given} given")
        }
        ClaimAbout::Numbered { at, said, given } => format!("{said} at {at}, {given} given"),
        ClaimAbout::Outside { at, span } => format!("{at} is outside {}-{}", span.first, span.last),
        ClaimAbout::OpenAndFretted { at, string, fret } => format!("s{string} open and f{fret} at {at}"),
        ClaimAbout::Recited { row, .. } => {
            let word = |action: &Option<Action>| action.map_or("a note", action_word);
            let said = row.iter().map(|(at, action)| match at {
                Some(at) => format!("{at} {}", word(action)),
                None => word(action).to_owned(),
            });
            format!("recited {}", said.collect::<Vec<_>>().join(", "))
        }
        ClaimAbout::NamedAgain { row } => {
            format!(
                "named again {}",
                joined(row.iter().map(|(_, note)| note.to_string()).collect())
            )
        }
        ClaimAbout::Passage { span, fingers } => {
            let fingers = fingers.iter().map(|finger| finger.letter().to_string()).collect();
            format!("{} plays all of {}-{}", joined(fingers), span.first, span.last)
        }
    }
}

fn left(event: &LeftEvent) -> String {
    let action = match event.action {
        LeftAction::Put => "put",
        LeftAction::Lift => "lift",
        LeftAction::Keep => "keep",
        LeftAction::Slide => "slide",
    };
    let mut words = vec![action.to_owned()];
    words.extend(event.finger.map(|finger| format!("LH{finger}")));
    words.extend(event.string.map(|string| format!("s{string}")));
    words.extend(event.fret.map(|fret| format!("f{fret}")));
    words.join(" ")
}

/// `i down`, `p s4 f2 E`, `golpe a`, `rasg x a m i`.
fn stroke_words(stroke: &Stroke) -> String {
    let placed = !stroke.strings.is_empty() || stroke.fret.is_some();
    let letter = |finger: &Finger| finger.letter().to_string();
    let mut words: Vec<String> = stroke.fingers.iter().map(letter).collect();
    let plain_note = stroke.action == Action::Pluck && placed;
    if !plain_note {
        let after = matches!(stroke.action, Action::Down | Action::Up | Action::Pluck);
        let place = if after { words.len() } else { 0 };
        words.insert(place, action_word(stroke.action).to_owned());
    }
    words.extend(stroke.strings.iter().map(|string| format!("s{string}")));
    words.extend(stroke.fret.map(|fret| format!("f{fret}")));
    words.extend(stroke.note.map(|note| note.to_string()));
    words.extend(stroke.left.map(|finger| format!("LH{finger}")));
    words.extend(
        stroke
            .rest_stroke
            .map(|rest| if rest { "apoyando" } else { "tirando" }.to_owned()),
    );
    words.join(" ")
}

fn action_word(action: Action) -> &'static str {
    match action {
        Action::Down => "down",
        Action::Up => "up",
        Action::Golpe => "golpe",
        Action::Pluck => "pluck",
        Action::Rasgueado => "rasg",
        Action::Roll => "roll",
        Action::PullOff => "pull-off",
        Action::HammerOn => "hammer-on",
        Action::Damp => "damp",
        Action::Tremolo => "tremolo",
        Action::Picado => "picado",
        Action::Alzapua => "alzapua",
        Action::Rest => "rest",
    }
}

/// What a line is about: what stands in front of its colon, for what has no moment.
fn kind(line: &str) -> Option<&str> {
    let (name, _) = line.split_once(": ")?;
    name.chars().next().is_some_and(char::is_alphabetic).then_some(name)
}

/// What of the outcomes a case speaks of: all that is played, and of the rest the kinds that it names.
pub fn spoken_of(case: &Case, outcomes: &[String]) -> Vec<String> {
    let named =
        |line: &&String| kind(line).is_none_or(|name| case.expected.iter().any(|fact| kind(fact) == Some(name)));
    let spoken: Vec<String> = outcomes.iter().filter(named).cloned().collect();
    let silent = spoken.iter().all(|line| kind(line).is_some());
    spoken.into_iter().chain(silent.then(|| "nothing".to_owned())).collect()
}

/// Whether the case holds: what must come out does, in order, and nothing that must not.
pub fn holds(case: &Case, outcomes: &[String]) -> bool {
    let read = spoken_of(case, outcomes);
    let right = case.expected.is_empty() || read == case.expected;
    let fits = |fact: &String, line: &String| {
        line == fact || fact.strip_suffix("...").is_some_and(|start| line.starts_with(start))
    };
    let wrong = |fact: &String| outcomes.iter().chain(&read).any(|line| fits(fact, line));
    right && !case.forbidden.iter().any(wrong)
}

/// Both sides of a case that does not hold, one beside the other.
pub fn side_by_side(case: &Case, outcomes: &[String]) -> String {
    let read = spoken_of(case, outcomes);
    let mut lines = vec![format!("    {:<36} {}", "must come out", "comes out")];
    for row in 0..case.expected.len().max(read.len()) {
        let cell = |list: &[String]| list.get(row).cloned().unwrap_or_default();
        let (must, does) = (cell(&case.expected), cell(&read));
        let sign = if must == does || case.expected.is_empty() {
            ' '
        } else {
            '>'
        };
        lines.push(format!("  {sign} {must:<36} {does}"));
    }
    lines.extend(case.forbidden.iter().map(|fact| format!("    must not: {fact}")));
    lines.join("\n")
}

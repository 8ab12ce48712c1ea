//! Items in a musician's words, for tables.

use compasario::music::pattern::ClaimAbout;
use compasario::music::position::Position;
use compasario::music::stroke::{Action, Stroke};
use compasario::written::{Head, Item, SameOf};

pub fn show(item: &Item) -> String {
    match item {
        Item::Head(head, implied) => format!("{}{}", head_text(head), mark(implied.as_deref())),
        Item::Chord(chord) => {
            let shape = chord.shape.map_or("?".to_owned(), |shape| shape.to_string());
            let fingers: Vec<String> = chord
                .fingers
                .iter()
                .map(|f| format!(" LH{} s{}-{} f{}", f.finger, f.string, f.to_string, f.fret))
                .collect();
            format!(
                "{} = {shape}{}{}",
                chord.name,
                fingers.concat(),
                mark(chord.implied.as_deref())
            )
        }
        Item::Begin(begin) => {
            let name = begin.name.as_ref().map_or(String::new(), |name| format!(" `{name}`"));
            let span = begin.span.map_or(String::new(), |s| format!(" {}-{}", s.first, s.last));
            let on = begin.runs_on.map_or(String::new(), |at| format!(" on to {at}"));
            format!("begin {:?}{name}{span}{on}", begin.role)
        }
        Item::Covers(covers) => {
            let chord = covers.chord.as_ref().map_or(String::new(), |chord| format!(" {chord}"));
            let still = if covers.still { " still" } else { "" };
            format!("covers {}-{}{still}{chord}", covers.span.first, covers.span.last)
        }
        Item::Stroke(stroke) => stroke_text(stroke),
        Item::Change(change) => format!("{} ({}){}", change.at, change.chord, mark(change.implied.as_deref())),
        Item::Left(event) => {
            let finger = event.finger.map_or(String::new(), |f| format!(" LH{f}"));
            let string = event.string.map_or(String::new(), |s| format!(" s{s}"));
            let fret = event.fret.map_or(String::new(), |f| format!(" f{f}"));
            format!(
                "{} {:?}{finger}{string}{fret}{}",
                event.at,
                event.action,
                mark(event.implied.as_deref())
            )
        }
        Item::Same(same) => {
            let counts = same
                .counts
                .map_or("all".to_owned(), |s| format!("{}-{}", s.first, s.last));
            let of = match &same.of {
                SameOf::Counts(s) => format!("{}-{}", s.first, s.last),
                SameOf::Core => "core".to_owned(),
                SameOf::Before => "before".to_owned(),
            };
            let hand = if same.right_hand_only { " (right hand)" } else { "" };
            format!("{counts} same as {of}{hand}")
        }
        Item::Repeats(count, implied) => format!("x{count}{}", mark(implied.as_deref())),
        Item::Caution(caution) => {
            let counts: Vec<String> = caution.counts.iter().map(ToString::to_string).collect();
            format!("caution [{}] {}", counts.join(" "), caution.about)
        }
        Item::Advice(text, implied) => format!("advice {text}{}", mark(implied.as_deref())),
        Item::Link(link) => format!(
            "{} {}: {}",
            if link.announced { "later" } else { "see" },
            link.target,
            link.words
        ),
        Item::Question(text, implied) => format!("question {text}{}", mark(implied.as_deref())),
        Item::Technique(t) => format!("{} {}", if t.explained { "explains" } else { "uses" }, t.id),
        Item::Misheard(m) => format!("heard {} read {}", m.heard, m.read_as),
        Item::Unread(u) => format!("unread{} {}: {}", if u.musical { "!" } else { "" }, u.text, u.reason),
        Item::Conflict(c) => format!("either {} or {}: {}", c.first, c.second, c.about),
        Item::LetStand(l) => format!("let stand {}: {}", l.rule, l.reason),
        Item::Comment(text) => format!("comment {text}"),
        Item::Claim(claim) => format!("claim: {}", claim_text(claim)),
        Item::Defines(own) => format!("{} is {:?} {:?}", own.word, own.meaning, own.fingers),
    }
}

fn claim_text(claim: &ClaimAbout) -> String {
    match claim {
        ClaimAbout::Covers { span, chord } => {
            let chord = chord.as_ref().map_or(String::new(), |chord| format!(" on {chord}"));
            format!("{}-{}{chord}", span.first, span.last)
        }
        ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given,
        } => {
            format!("{per_count} to a count from {from} over {counts}, {given} given")
        }
        ClaimAbout::Recited { span, row } => {
            let entry = |(at, action): &(Option<Position>, Option<Action>)| match (at, action) {
                (Some(at), Some(action)) => format!("{at} {action:?}"),
                (Some(at), None) => format!("{at}"),
                (None, Some(action)) => format!("{action:?}"),
                (None, None) => "-".to_owned(),
            };
            let row: Vec<String> = row.iter().map(entry).collect();
            format!("aloud {}-{}: {}", span.first, span.last, row.join(", "))
        }
        other => format!("{other:?}"),
    }
}

fn head_text(head: &Head) -> String {
    match head {
        Head::Accent(at) => format!("accent {at}"),
        Head::Beats(beats) => format!("beats {beats}"),
        Head::Tempo(tempo) => format!("tempo {}-{}", tempo.low, tempo.high),
        Head::Key(key) => format!("key {} {:?}", key.tonic, key.mode),
        Head::Capo(fret) => format!("capo {fret}"),
        other => format!("{other:?}"),
    }
}

fn stroke_text(stroke: &Stroke) -> String {
    let mut text = format!("{} {:?}", stroke.at, stroke.action);
    if !stroke.fingers.is_empty() {
        text.push(' ');
        text.extend(stroke.fingers.iter().map(|finger| finger.letter()));
    }
    if let Some(letter) = &stroke.little_finger_as {
        text.push_str(&format!(" x={letter}"));
    }
    for string in &stroke.strings {
        text.push_str(&format!(" s{string}"));
    }
    if let Some(fret) = stroke.fret {
        text.push_str(&format!(" f{fret}"));
    }
    if let Some(note) = stroke.note {
        text.push_str(&format!(" {note}"));
    }
    if let Some(finger) = stroke.left {
        text.push_str(&format!(" LH{finger}"));
    }
    if let Some(rest) = stroke.rest_stroke {
        text.push_str(if rest { " apoyando" } else { " tirando" });
    }
    if stroke.accent {
        text.push_str(" >");
    }
    if let Some(length) = stroke.length {
        text.push_str(&format!(" for {length}"));
    }
    if let Some(arrival) = stroke.arrival {
        text.push_str(&format!(" to {arrival}"));
    }
    text.push_str(&mark(stroke.implied.as_deref()));
    text
}

fn mark(implied: Option<&str>) -> String {
    implied.map_or(String::new(), |rule| format!(" ~{rule}"))
}

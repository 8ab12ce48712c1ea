use super::sentences::{NoteShown, Sentence, State};
use super::{InShort, Open, Understood};
use crate::text::{Place, escaped};

/// One page by itself, for the teacher's own eyes: no script, nothing fetched.
pub fn page(understood: &Understood, language: &str) -> String {
    let lesson = &understood.lesson;
    let mut body = format!("<h1>{}</h1>\n<div class=\"beside\">\n<div>\n", escaped(&lesson.title));
    for note in &understood.notes {
        body.push_str(&words(note, language));
    }
    body.push_str("</div>\n<aside>\n");
    body.push_str(&in_short(lesson));
    body.push_str(&open("Open questions", &understood.questions));
    let (musical, maybe): (Vec<&Open>, Vec<&Open>) = understood.not_understood.iter().partition(|open| open.musical);
    body.push_str(&open("Not understood, and plainly music", &musical));
    body.push_str(&open("Not understood, perhaps no music", &maybe));
    body.push_str(&misheard(&understood.misheard));
    body.push_str("</aside>\n</div>\n");
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}: what was understood</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n{body}</body>\n</html>\n",
        escaped(&lesson.title)
    )
}

const STYLE: &str = include_str!("page.css");

fn words(note: &NoteShown, language: &str) -> String {
    let mut html = format!("<h2>{}</h2>\n<ol class=\"told\">\n", escaped(&note.name));
    for sentence in &note.sentences {
        html.push_str(&told(sentence, language));
    }
    html.push_str("</ol>\n");
    html
}

fn told(sentence: &Sentence, language: &str) -> String {
    let class = match &sentence.state {
        State::Read => "read",
        State::Aside => "aside",
        State::NotUnderstood { musical: true, .. } => "missed",
        State::NotUnderstood { .. } => "unread",
    };
    let time = sentence
        .time
        .map_or(format!("line {}", sentence.line), |time| time.to_string());
    let words = marked(sentence);
    let mut html = format!(
        "<li class=\"{class}\"><span class=\"time\">{time}</span>\n<p lang=\"{}\">{words}</p>\n",
        escaped(language)
    );
    if !sentence.marks.is_empty() {
        html.push_str("<ul>\n");
        for mark in &sentence.marks {
            for (what, implied) in &mark.read {
                let implied = implied
                    .as_ref()
                    .map_or(String::new(), |rule| format!(" <em>implied: {}</em>", escaped(rule)));
                html.push_str(&format!("<li><b>{}</b> {}{implied}</li>\n", mark.number, escaped(what)));
            }
        }
        html.push_str("</ul>\n");
    }
    if let State::NotUnderstood { why, musical } = &sentence.state {
        let what = if *musical { "Not understood" } else { "Nothing read" };
        html.push_str(&format!("<p class=\"why\">{what}: {}</p>\n", escaped(why)));
    }
    if sentence.private {
        html.push_str("<p class=\"why\">Private: never published</p>\n");
    }
    html.push_str("</li>\n");
    html
}

fn marked(sentence: &Sentence) -> String {
    let mut html = String::new();
    for run in sentence.letters.chunk_by(|first, second| first.mark == second.mark) {
        let words: String = run.iter().map(|letter| letter.letter).collect();
        let mark = run
            .first()
            .and_then(|letter| letter.mark)
            .and_then(|mark| sentence.marks.get(mark));
        match mark {
            Some(mark) => {
                let implied = mark.read.iter().all(|(_, implied)| implied.is_some());
                let class = if implied { " class=\"implied\"" } else { "" };
                html.push_str(&format!(
                    "<mark{class}>{}<sup>{}</sup></mark>",
                    escaped(&words),
                    mark.number
                ));
            }
            None => html.push_str(&escaped(&words)),
        }
    }
    html
}

fn in_short(lesson: &InShort) -> String {
    let mut html = String::from("<h2>The lesson</h2>\n<dl>\n");
    for (name, value) in &lesson.facts {
        html.push_str(&format!("<dt>{name}</dt><dd>{}</dd>\n", escaped(value)));
    }
    html.push_str("</dl>\n");
    for pattern in &lesson.patterns {
        html.push_str(&format!(
            "<table>\n<caption>{}</caption>\n<thead><tr><th scope=\"col\">count</th><th scope=\"col\">chord</th>\
             <th scope=\"col\">strokes</th></tr></thead>\n<tbody>\n",
            escaped(&pattern.title)
        ));
        for row in &pattern.rows {
            let class = if row.implied {
                " class=\"implied\" title=\"not said, but follows from what was\""
            } else {
                ""
            };
            html.push_str(&format!(
                "<tr{class}><th scope=\"row\">{}</th><td>{}</td><td>{}</td></tr>\n",
                escaped(&row.at),
                escaped(&row.chord),
                escaped(&row.strokes.join(" + "))
            ));
        }
        html.push_str("</tbody>\n</table>\n");
    }
    for (line, about) in &lesson.cautions {
        html.push_str(&format!(
            "<p class=\"careful\">{} <span class=\"time\">line {line}</span></p>\n",
            escaped(about)
        ));
    }
    html
}

fn open<T: std::borrow::Borrow<Open>>(title: &str, open: &[T]) -> String {
    if open.is_empty() {
        return String::new();
    }
    let mut html = format!("<h2>{title}</h2>\n<ul class=\"open\">\n");
    for open in open {
        let open = open.borrow();
        let why = if open.why.is_empty() {
            String::new()
        } else {
            format!(" <span class=\"why\">{}</span>", escaped(&open.why))
        };
        html.push_str(&format!(
            "<li>{} {}{why}</li>\n",
            moment(&open.place),
            escaped(&open.words)
        ));
    }
    html.push_str("</ul>\n");
    html
}

fn misheard(words: &[(Place, String, String)]) -> String {
    if words.is_empty() {
        return String::new();
    }
    let mut html = String::from("<h2>Misheard and put right</h2>\n<ul class=\"open\">\n");
    for (place, heard, read) in words {
        html.push_str(&format!(
            "<li>{} “{}” was read as {}</li>\n",
            moment(place),
            escaped(heard),
            escaped(read)
        ));
    }
    html.push_str("</ul>\n");
    html
}

fn moment(place: &Place) -> String {
    let moment = place
        .time
        .map_or(format!("line {}", place.line), |time| time.to_string());
    format!("<span class=\"time\">{moment}</span>")
}

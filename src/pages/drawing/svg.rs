//! A small writer of SVG: numbers kept short, text always escaped.

use std::fmt::Write;

/// Escapes text for HTML and SVG, inside elements and inside double or single quotes.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // Not allowed in XML; a note may hold them all the same.
            control if control.is_control() && !matches!(control, '\n' | '\t') => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// A length in the drawing's units, to a tenth.
pub fn number(value: f64) -> String {
    let tenths = (value * 10.0).round();
    if tenths == 0.0 {
        return "0".to_owned();
    }
    let text = format!("{:.1}", tenths / 10.0);
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// SVG markup in the making.
#[derive(Debug, Default)]
pub struct Svg {
    out: String,
}

impl Svg {
    pub fn line(&mut self, class: &str, from: (f64, f64), to: (f64, f64)) {
        let _ = write!(
            self.out,
            r#"<path class="{class}" d="M{} {}L{} {}"/>"#,
            number(from.0),
            number(from.1),
            number(to.0),
            number(to.1)
        );
    }

    /// A path; `d` is made here, never from a note.
    pub fn path(&mut self, class: &str, d: &str) {
        let _ = write!(self.out, r#"<path class="{class}" d="{d}"/>"#);
    }

    pub fn rect(&mut self, class: &str, corner: (f64, f64), size: (f64, f64), round: f64) {
        let _ = write!(
            self.out,
            r#"<rect class="{class}" x="{}" y="{}" width="{}" height="{}" rx="{}"/>"#,
            number(corner.0),
            number(corner.1),
            number(size.0.max(0.0)),
            number(size.1.max(0.0)),
            number(round)
        );
    }

    pub fn circle(&mut self, class: &str, centre: (f64, f64), radius: f64) {
        let _ = write!(
            self.out,
            r#"<circle class="{class}" cx="{}" cy="{}" r="{}"/>"#,
            number(centre.0),
            number(centre.1),
            number(radius)
        );
    }

    /// Text centred on `at`, its baseline there. Classes `from` and `to` in the style sheet set other anchors.
    pub fn text(&mut self, class: &str, at: (f64, f64), words: &str) {
        let _ = write!(
            self.out,
            r#"<text class="{class}" x="{}" y="{}">{}</text>"#,
            number(at.0),
            number(at.1),
            escape(words)
        );
    }

    /// Opens a group; `attributes` are made here, never from a note.
    pub fn open(&mut self, class: &str, attributes: &str) {
        let _ = write!(self.out, r#"<g class="{class}"{attributes}>"#);
    }

    pub fn close(&mut self) {
        self.out.push_str("</g>");
    }

    /// The finished picture. `title` and `about` are what a screen reader says.
    pub fn finish(self, frame: &Frame) -> String {
        let Frame {
            id,
            class,
            width,
            height,
            title,
            about,
        } = frame;
        format!(
            concat!(
                r#"<svg class="{class}" viewBox="0 0 {w} {h}" width="{w}" height="{h}" role="img" "#,
                r#"aria-labelledby="{id}-t {id}-d"><title id="{id}-t">{title}</title><desc id="{id}-d">{about}</desc>{out}</svg>"#
            ),
            class = class,
            w = number(*width),
            h = number(*height),
            id = escape(id),
            title = escape(title),
            about = escape(about),
            out = self.out
        )
    }

    /// The picture as an ornament beside words that say the same: hidden from screen readers.
    pub fn finish_silent(self, class: &str, width: f64, height: f64) -> String {
        format!(
            r#"<svg class="{class}" viewBox="0 0 {w} {h}" width="{w}" height="{h}" aria-hidden="true" focusable="false">{out}</svg>"#,
            w = number(width),
            h = number(height),
            out = self.out
        )
    }
}

/// What stands around a picture.
#[derive(Debug)]
pub struct Frame<'a> {
    pub id: &'a str,
    pub class: &'a str,
    pub width: f64,
    pub height: f64,
    pub title: &'a str,
    pub about: &'a str,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        for (value, text) in [
            (0.0, "0"),
            (-0.04, "0"),
            (3.0, "3"),
            (4.14, "4.1"),
            (-2.25, "-2.3"),
            (9.96, "10"),
        ] {
            assert_eq!(number(value), text);
        }
    }

    #[test]
    fn text_cannot_leave_its_element() {
        let mut svg = Svg::default();
        svg.text("t", (0.0, 0.0), "</text><script>\"'\u{1}");
        let out = svg.finish_silent("c", 1.0, 1.0);
        assert!(!out.contains("<script"), "{out}");
        assert!(roxmltree::Document::parse(&out).is_ok());
    }
}

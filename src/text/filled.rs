use std::fmt::Display;

/// A text with its `{holes}` filled. A hole that nothing is given for stays empty.
pub fn filled(text: &str, holes: &[(&str, &dyn Display)]) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, later)) = after.split_once('}') else {
            out.push('{');
            rest = after;
            continue;
        };
        if let Some((_, value)) = holes.iter().find(|(hole, _)| *hole == name) {
            out.push_str(&value.to_string());
        }
        rest = later;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::filled;

    #[test]
    fn holes_are_filled_and_no_text_is_lost() {
        assert_eq!(filled("a {x} b {y} {", &[("x", &1), ("y", &"{x}")]), "a 1 b {x} {");
    }
}

use super::fold;

/// Names that some file systems or web servers keep for themselves.
const KEPT: &[&str] = &["aux", "con", "index", "nul", "prn"];

/// An address for a name: folded, words joined by hyphens, nothing but `a-z`, `0-9` and `-`.
///
/// `Soleá por bulería, nº 2` → `solea-por-buleria-no-2`. Never empty, never a name that a file system keeps for itself.
pub fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in fold(name).text.chars() {
        if letter.is_ascii_alphanumeric() {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') && letter != '\'' {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() {
        "lesson".to_owned()
    } else if KEPT.contains(&slug) || is_port(slug) {
        format!("lesson-{slug}")
    } else {
        slug.to_owned()
    }
}

/// `com1`, `lpt9`: kept by one family of file systems.
fn is_port(slug: &str) -> bool {
    let digit = slug.strip_prefix("com").or_else(|| slug.strip_prefix("lpt"));
    digit.is_some_and(|digit| digit.len() == 1 && digit.bytes().all(|byte| byte.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn names_become_addresses() {
        for (name, expected) in [
            ("Soleá por bulería, nº 2", "solea-por-buleria-no-2"),
            ("tientos-despacio", "tientos-despacio"),
            ("  The teacher's <b> first..idea ", "the-teachers-b-first-idea"),
            ("???", "lesson"),
            ("CON", "lesson-con"),
            ("com7", "lesson-com7"),
            ("compás", "compas"),
            ("a/../b", "a-b"),
        ] {
            assert_eq!(slug(name), expected, "{name}");
        }
    }
}

//! The teacher's own palos: `palos.toml` of the notes folder. What the reader has to know of them: their names, and how
//! they are counted.

use std::sync::Arc;

use super::tokens::Token;
use crate::intake::Folder;
use crate::music::palo::{Palo, PaloTable, find};
use crate::text::fold;

/// A folder's own palos. Most folders have none.
#[derive(Debug, Clone, Default)]
pub struct OwnPalos {
    palos: Arc<[Palo]>,
    /// Every way of naming one, folded, with its place among the palos.
    names: Arc<[(String, usize)]>,
}

impl OwnPalos {
    /// A file of palos with a fault is left out whole, here as in the checks.
    pub fn of(folder: &Folder) -> Self {
        let own = folder.palos.as_ref().map(|file| PaloTable::ours().with(&file.text));
        let Some(Ok(table)) = own else {
            return Self::default();
        };
        let palos: Vec<Palo> = table.iter().filter(|palo| palo.own).cloned().collect();
        let mut names = Vec::new();
        for (index, palo) in palos.iter().enumerate() {
            for name in palo.said.iter().chain([&palo.name.en, &palo.name.es, &palo.slug]) {
                names.push((fold(name).text.replace('-', " "), index));
            }
        }
        Self {
            palos: palos.into(),
            names: names.into(),
        }
    }

    /// The palo of this slug: the teacher's own, or else ours.
    pub fn find(&self, slug: &str) -> Option<&Palo> {
        self.palos.iter().find(|palo| palo.slug == slug).or_else(|| find(slug))
    }

    /// The own palo that is named from a token on: its slug, and how many tokens.
    pub fn named_at(&self, tokens: &[Token], index: usize) -> Option<(&str, usize)> {
        let named = |(name, palo): &(String, usize)| {
            let palo = self.palos.get(*palo)?;
            Some((spelled(tokens, index, name)?, palo.slug.as_str()))
        };
        let longest = self.names.iter().filter_map(named).max()?;
        Some((longest.1, longest.0))
    }

    /// Every way of naming one, folded.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.names.iter().map(|(name, _)| name.as_str())
    }

    /// Whether a sentence names one.
    pub fn stands_in(&self, tokens: &[Token]) -> bool {
        (0..tokens.len()).any(|index| self.named_at(tokens, index).is_some())
    }
}

/// How many tokens from this one on spell a name.
pub fn spelled(tokens: &[Token], index: usize, name: &str) -> Option<usize> {
    let mut at = index;
    let mut rest = name;
    loop {
        let token = tokens.get(at)?;
        rest = rest.strip_prefix(token.word.as_str())?;
        at += 1;
        if rest.is_empty() {
            return Some(at - index);
        }
        rest = rest.strip_prefix(' ')?;
    }
}

#[cfg(test)]
mod tests {
    use crate::intake::{Note, load};
    use crate::music::lesson::Lesson;
    use crate::reading::read_lesson;

    fn lesson(palos: &str, file: &str, note: &str) -> Lesson {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("palos.toml"), palos).unwrap();
        std::fs::write(folder.path().join(file), note).unwrap();
        let folder = load(folder.path()).unwrap();
        read_lesson(&folder, &folder.notes.iter().collect::<Vec<&Note>>())
    }

    /// A palo of the teacher's own in seven counts, named in the head, in the first line, aloud, and beside another's name.
    #[test]
    fn a_palo_of_the_teachers_own_is_heard() {
        let own = "[[palo]]\nslug = \"zorongo\"\nname = { en = \"zorongo\", es = \"zorongo\" }\n\
               said = [\"tangos del zorongo\"]\nfamily = \"tangos\"\nsource = \"mine\"\n\
               about = { en = \"Ours.\", es = \"Nuestro.\" }\n\n[[palo.compas]]\ncounts = 7\nsource = \"mine\"\n\
               starts = [{ count = 1, source = \"mine\" }]\naccents = [{ at = [1, 4], source = \"mine\" }]\n";
        let table = [
            ("head", "palo: Tangos del Zorongo\n\n[0:00] Core\n1: i dn\n7: i up\n"),
            ("line", "[0:00] zorongo in A\nCore\n1: i dn\n7: i up\n"),
            ("longest", "[0:00] tangos del zorongo\nCore\n1: i dn\n7: i up\n"),
        ];
        for (name, note) in table {
            let lesson = lesson(own, "lesson.notes.txt", note);
            assert_eq!(lesson.palo.map(|said| said.value).as_deref(), Some("zorongo"), "{name}");
            let span = lesson.patterns.first().and_then(|core| core.span);
            assert_eq!(span.map(|span| (span.first, span.last)), Some((1, 7)), "{name}");
        }
        let spoken = "[0:00] Today a zorongo, slowly. [0:05] On 1 the index goes down.\n";
        let heard = lesson(own, "lesson.spoken.txt", spoken);
        assert_eq!(heard.palo.map(|said| said.value).as_deref(), Some("zorongo"));
        // A file with a fault is left out, here as in the checks.
        let faulty = own.replace("counts = 7", "counts = 0");
        let heard = lesson(&faulty, "lesson.notes.txt", table[1].1);
        assert_eq!(heard.palo.map(|said| said.value), None);
    }
}

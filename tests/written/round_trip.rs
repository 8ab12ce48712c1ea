//! Lesson -> written form -> lesson.

use compasario::written;
use proptest::prelude::{ProptestConfig, any, prop_assert_eq, proptest};

use crate::lessons::{drafted, lesson, without_places};

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_lesson_written_and_read_is_the_same_lesson(lesson in lesson()) {
        let text = written::write(&lesson);
        let read = written::read(&text);
        prop_assert_eq!(without_places(&read), without_places(&lesson), "{}", text);
    }

    #[test]
    fn what_is_read_is_written_alike(lesson in lesson()) {
        let text = written::write(&lesson);
        prop_assert_eq!(written::write(&written::read(&text)), text);
    }

    #[test]
    fn a_draft_read_back_is_the_lesson_with_its_questions(lesson in lesson()) {
        let text = written::draft(&lesson);
        let read = written::read(&text);
        prop_assert_eq!(without_places(&read), without_places(&drafted(&lesson)), "{}", text);
        prop_assert_eq!(written::draft(&read), text);
    }

    #[test]
    fn no_text_makes_the_reader_fail(text in any::<String>()) {
        let _ = written::read(&text);
    }

    #[test]
    fn no_line_of_the_forms_own_signs_makes_the_reader_fail(
        text in r#"([0-9]{1,3}|[a-z]{1,3}|s[0-9]|f[0-9]|[A-G][b#]?|[-+&/:,;()~"'!?=\[\]\\ \n]|triplet|rasg|same as|x02220|ª|½|↓){0,24}"#
    ) {
        let _ = written::read(&text);
    }
}

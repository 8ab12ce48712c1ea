use crate::checks::check::words_of;
use crate::checks::{Check, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Lesson, Said};
use crate::music::remark::Remark;
use crate::music::spelling::plain;

pub(in crate::checks) const CHECK: Check = Check {
    id: "sounding-key-differs",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[0:00] rumba, capo 3. Key: A minor\n[0:10] with the capo it sounds in B minor",
        right: "[0:00] rumba, capo 3. Key: A minor\n[0:10] with the capo it sounds in C minor",
    },
    run: Run::Remark(finding),
};

/// A capo moves what sounds by as many semitones as its fret. A key of another mode is another thing that is heard.
fn finding(lesson: &Lesson, told: &Said<Remark>) -> Option<Finding> {
    let Remark::SoundsIn { tonic, mode, capo } = &told.value else {
        return None;
    };
    let key = lesson.key.as_ref()?;
    let capo = capo
        .or(lesson.capo.as_ref().map(|capo| capo.value))
        .filter(|capo| *capo > 0)?;
    let sounds = (key.value.tonic.pitch_class() + capo) % 12;
    if key.value.mode != *mode || sounds == tonic.pitch_class() || key.place == told.place {
        return None;
    }
    let words = words_of(lesson);
    let sounds = plain(sounds);
    let holes: Holes = &[
        ("capo", &capo),
        ("hand", &key.value.tonic),
        ("said", tonic),
        ("sounds", &sounds),
    ];
    Some(CHECK.says(words, told.place, "", holes).see_also(key.place, "", holes))
}

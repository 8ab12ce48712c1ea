//! The recording of a lesson: how a moment in it is opened.

use crate::music::lesson::Lesson;
use crate::text::ClockTime;

/// Where a lesson's recording is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Recording {
    /// Nowhere that the site may point at: only times are shown.
    #[default]
    None,
    /// A page elsewhere; `{seconds}` in it is where the moment goes.
    Elsewhere(String),
    /// A file copied into the site: its address from the site's root.
    File { address: String, video: bool },
}

/// Endings of files that a browser plays.
const SOUND: [&str; 7] = ["mp3", "m4a", "aac", "ogg", "oga", "opus", "wav"];
const PICTURE: [&str; 4] = ["mp4", "m4v", "webm", "ogv"];

/// A recording to be copied into the site.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copy {
    /// As the note names it, relative to the notes folder.
    pub from: String,
    /// Relative to the site.
    pub to: String,
}

impl Recording {
    pub fn of(lesson: &Lesson, slug: &str, copy: bool) -> Self {
        let Some(said) = &lesson.recording else {
            return Recording::None;
        };
        let said = said.value.trim();
        let lower = said.to_ascii_lowercase();
        if lower.starts_with("https://") || lower.starts_with("http://") {
            return Recording::Elsewhere(said.to_owned());
        }
        match (copy, file_ending(said)) {
            (true, Some((ending, video))) => Recording::File {
                address: format!("recordings/{slug}.{ending}"),
                video,
            },
            _ => Recording::None,
        }
    }

    /// The file to copy, when the note names one inside the notes folder.
    pub fn copy(lesson: &Lesson, slug: &str) -> Option<Copy> {
        let said = lesson.recording.as_ref()?.value.trim().to_owned();
        match Recording::of(lesson, slug, true) {
            Recording::File { address, .. } if stays_inside(&said) => Some(Copy {
                from: said,
                to: address,
            }),
            _ => None,
        }
    }

    /// The address that opens the recording at a moment. `root` leads from the page to the site's root.
    pub fn at(&self, time: ClockTime, root: &str) -> Option<String> {
        let seconds = time.seconds().to_string();
        match self {
            Recording::None => None,
            Recording::Elsewhere(pattern) if pattern.contains("{seconds}") => {
                Some(pattern.replace("{seconds}", &seconds))
            }
            Recording::Elsewhere(address) => {
                let joint = if address.contains('#') { "&t=" } else { "#t=" };
                Some(format!("{address}{joint}{seconds}"))
            }
            Recording::File { address, .. } => Some(format!("{root}{address}#t={seconds}")),
        }
    }

    pub fn is_file(&self) -> bool {
        matches!(self, Recording::File { .. })
    }
}

fn file_ending(name: &str) -> Option<(String, bool)> {
    let ending = name.rsplit_once('.')?.1.to_ascii_lowercase();
    if SOUND.contains(&ending.as_str()) {
        Some((ending, false))
    } else if PICTURE.contains(&ending.as_str()) {
        Some((ending, true))
    } else {
        None
    }
}

/// No way out of the notes folder.
fn stays_inside(name: &str) -> bool {
    let parts: Vec<&str> = name.split(['/', '\\']).collect();
    !name.starts_with(['/', '\\']) && !name.contains(':') && parts.iter().all(|part| !matches!(*part, ".." | ""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::lesson::Said;
    use crate::text::Place;

    fn lesson(recording: &str) -> Lesson {
        Lesson {
            recording: Some(Said::new(recording.to_owned(), Place::default())),
            ..Lesson::default()
        }
    }

    #[test]
    fn a_moment_opens_as_the_recording_needs_it() {
        let at = ClockTime::from_seconds(161);
        let table = [
            ("https://a.example/v", Some("https://a.example/v#t=161")),
            ("https://a.example/v#x", Some("https://a.example/v#x&t=161")),
            (
                "https://a.example/v?start={seconds}",
                Some("https://a.example/v?start=161"),
            ),
            ("lesson.mp3", Some("../recordings/s.mp3#t=161")),
            ("javascript:alert(1)", None),
            ("lesson.txt", None),
        ];
        for (said, opens) in table {
            let recording = Recording::of(&lesson(said), "s", true);
            assert_eq!(recording.at(at, "../").as_deref(), opens, "{said}");
        }
        assert_eq!(Recording::of(&lesson("lesson.mp3"), "s", false), Recording::None);
    }

    #[test]
    fn only_files_inside_the_notes_folder_are_copied() {
        assert!(Recording::copy(&lesson("sound/one.mp3"), "s").is_some());
        for said in [
            "../one.mp3",
            "/etc/one.mp3",
            "a/../../one.mp3",
            "C:\\one.mp3",
            "https://a.example/one.mp3",
        ] {
            assert_eq!(Recording::copy(&lesson(said), "s"), None, "{said}");
        }
    }
}

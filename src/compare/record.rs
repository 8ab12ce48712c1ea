use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::written;

/// The file in a site that holds its record.
pub const RECORD: &str = "record.jsonl";

/// What is kept of a course to be compared with later. It is published with the site: nothing private is in it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Record {
    pub course: CourseRecord,
    /// In the order of the course.
    pub lessons: Vec<LessonRecord>,
}

/// What holds for the whole course: the record's first line.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CourseRecord {
    /// The form of this file.
    pub record: u32,
    pub title: String,
    pub language: String,
    /// The teacher's own palos, as TOML without remarks; may be empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub palos: String,
    /// Pages that are no lesson's, with the anchors that a link from elsewhere may point at.
    pub pages: BTreeMap<String, Vec<String>>,
}

/// One lesson: a line of the record.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct LessonRecord {
    /// Unique in the record; the stem of its address.
    pub id: String,
    pub address: String,
    pub title: String,
    pub language: String,
    /// The anchor of each pattern, in their order.
    pub anchors: Vec<String>,
    /// Lessons that it leads to, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub leads_to: Vec<String>,
    /// The lesson in the written form.
    pub music: String,
    /// The published sentences that it was read from.
    pub words: Vec<String>,
}

impl LessonRecord {
    /// The lesson, read back from the written form. Places are those of that text.
    pub fn lesson(&self) -> Lesson {
        written::read(&self.music)
    }
}

/// A line of the file.
#[derive(Deserialize)]
#[serde(untagged)]
enum Line {
    Lesson { lesson: LessonRecord },
    Course(CourseRecord),
}

#[derive(Serialize)]
struct LessonLine<'a> {
    lesson: &'a LessonRecord,
}

impl Record {
    /// The form of the file that this program writes.
    pub const FORM: u32 = 1;

    /// Our palos with the course's own over them.
    pub fn palos(&self) -> PaloTable {
        let ours = PaloTable::ours();
        ours.with(&self.course.palos).unwrap_or_else(|_| ours.clone())
    }

    /// The record as lines of JSON (RFC 8259), the course first, then a lesson a line.
    /// Nothing in it can be taken for markup, whatever a host says that the file is.
    pub fn lines(&self) -> Vec<String> {
        let course = serde_json::to_string(&self.course);
        let lessons = self
            .lessons
            .iter()
            .map(|lesson| serde_json::to_string(&LessonLine { lesson }));
        // Nothing in these types can fail to be written: text, numbers, maps with text for keys.
        let lines = std::iter::once(course).chain(lessons).filter_map(Result::ok);
        // Outside of text there is no `<` in JSON.
        lines.map(|line| line.replace('<', "\\u003c")).collect()
    }

    pub fn to_text(&self) -> String {
        let mut text = self.lines().join("\n");
        text.push('\n');
        text
    }

    /// Reads what [`Record::to_text`] wrote. The error is a sentence with the line's number.
    pub fn read(text: &str) -> Result<Self, String> {
        let lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
        let mut record: Option<Record> = None;
        for (index, line) in lines {
            let read = serde_json::from_str(line).map_err(|_| format!("line {} is not of a record", index + 1))?;
            match (read, &mut record) {
                (Line::Course(course), None) if course.record <= Self::FORM => {
                    record = Some(Record {
                        course,
                        lessons: Vec::new(),
                    });
                }
                (Line::Course(_), None) => return Err("a newer version of this program wrote it".to_owned()),
                (Line::Lesson { lesson }, Some(record)) => record.lessons.push(lesson),
                (Line::Course(_), Some(_)) | (Line::Lesson { .. }, None) => {
                    return Err(format!("line {} does not belong there", index + 1));
                }
            }
        }
        record.ok_or_else(|| "it is empty".to_owned())
    }
}

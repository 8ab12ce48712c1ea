use compasario::exports::facts::{self, Facts};
use compasario::music::lesson::Lesson;

/// Every lesson whose facts stand in these folders, sorted by name.
pub fn lessons(folders: &[&str]) -> Vec<(String, Lesson)> {
    let mut lessons = Vec::new();
    for folder in folders {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            if let Some(stem) = name.strip_suffix(".gold.json") {
                let facts: Facts = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
                lessons.push((stem.to_owned(), facts::to_lesson(&facts)));
            }
        }
    }
    lessons.sort_by(|(one, _), (other, _)| one.cmp(other));
    lessons
}

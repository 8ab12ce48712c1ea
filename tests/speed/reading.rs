//! How fast notes are read on one core: `cargo bench --bench reading`. Typed notes, transcripts, captions, of the corpus
//! and of the other voices; the time from loaded cues to a lesson, bytes of the notes as they stand on disk.

use std::path::Path;

use compasario::intake::{self, Folder, Note};
use compasario::reading::read_lesson;

/// As in the program.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    divan::main();
}

/// Every note of a kind, each in a folder of its own.
fn notes(ending: &str) -> Vec<(Folder, u64)> {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let folders = ["corpus/lessons", "voices/en", "voices/es", "voices/sound"];
    let mut paths: Vec<_> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(tests.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(ending))
        .collect();
    paths.sort();
    let load = |path: &std::path::PathBuf| (intake::load_note(path).unwrap(), path.metadata().unwrap().len());
    paths.iter().map(load).collect()
}

#[divan::bench(args = ["notes.txt", "spoken.txt", ".vtt"])]
fn read(bencher: divan::Bencher, ending: &str) {
    let notes = notes(ending);
    let bytes: u64 = notes.iter().map(|(_, bytes)| bytes).sum();
    bencher.counter(divan::counter::BytesCount::new(bytes)).bench(|| {
        for (folder, _) in &notes {
            let of_lesson: Vec<&Note> = folder
                .notes
                .iter()
                .filter(|note| folder.asked.is_none_or(|file| note.file == file))
                .collect();
            divan::black_box(read_lesson(folder, &of_lesson));
        }
    });
}

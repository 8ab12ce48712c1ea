//! The program itself: what it prints, and its exit statuses.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn compasario(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_compasario"));
    command
        .args(args)
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE")
        .env_remove("LANG")
        .env_remove("LC_ALL")
        .env_remove("LC_MESSAGES")
        .stdin(Stdio::null());
    command
}

fn run(args: &[&str]) -> Output {
    compasario(args).output().unwrap()
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn status(output: &Output) -> i32 {
    output.status.code().unwrap()
}

/// A folder with one note whose times run backwards: an error that needs no reading of music.
fn folder_with_an_error() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(
        folder.path().join("tangos.notes.txt"),
        "[0:43] tangos, count 4\n[0:37] 1 i dn\n",
    )
    .unwrap();
    folder
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn help_names_every_command_and_the_exit_statuses() {
    let help = run(&["--help"]);
    assert_eq!(status(&help), 0);
    for word in [
        "build",
        "check",
        "read",
        "draft",
        "preview",
        "export",
        "schema",
        "completions",
        "manual",
        "Exit status",
    ] {
        assert!(stdout(&help).contains(word), "{word}");
    }
    for command in [
        "build", "check", "read", "draft", "compare", "preview", "plan", "export",
    ] {
        assert_eq!(status(&run(&[command, "--help"])), 0, "{command}");
    }
}

#[test]
fn a_call_that_cannot_be_used_is_status_2() {
    for call in [
        &[][..],
        &["bild"],
        &["check"],
        &["check", "no-such-folder"],
        &["check", "--explain", "no-such-check"],
        &["read", "no-such-note.txt"],
        &["build", "no-such-folder", "--out", "nowhere"],
        &["check", "x", "--format", "yaml"],
    ] {
        let output = run(call);
        assert_eq!(status(&output), 2, "{call:?}");
        assert!(!stderr(&output).trim().is_empty(), "{call:?} says why");
        assert!(stdout(&output).is_empty(), "{call:?}");
    }
}

#[test]
fn an_empty_folder_is_status_2() {
    let folder = tempfile::tempdir().unwrap();
    let output = run(&["check", text(folder.path())]);
    assert_eq!(status(&output), 2, "{}", stderr(&output));
}

#[test]
fn an_error_is_status_1_and_said_at_its_place() {
    let folder = folder_with_an_error();
    let output = run(&["check", text(folder.path())]);
    assert_eq!(status(&output), 1);
    let told = stdout(&output);
    for part in [
        "tangos.notes.txt:2:8 (0:37)",
        "error: the time 0:37 comes after 0:43",
        "^^^^",
        "why:",
        "mend:",
        "1 error",
    ] {
        assert!(told.contains(part), "{part} in:\n{told}");
    }
    for line in told.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(!told.contains('\u{1b}'), "no colour in a pipe");
}

#[test]
fn colour_only_when_asked_for_or_on_a_terminal() {
    let folder = folder_with_an_error();
    let always = run(&["check", text(folder.path()), "--color", "always"]);
    assert!(stdout(&always).contains('\u{1b}'));
    let plain = stdout(&run(&["check", text(folder.path())]));
    let escapes = regex::Regex::new("\u{1b}\\[[0-9;]*m").unwrap();
    assert_eq!(
        escapes.replace_all(&stdout(&always), ""),
        plain,
        "colour adds nothing but colour"
    );
}

#[test]
fn one_note_is_judged_and_shown_as_typed() {
    let folder = folder_with_an_error();
    let note = folder.path().join("tangos.notes.txt");
    let output = run(&["check", text(&note), "--format", "json"]);
    assert_eq!(status(&output), 1);
    let report: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
    let finding = &report["findings"][0];
    assert_eq!(finding["file"], text(&note));
    assert_eq!(finding["line"], 2);
    assert_eq!(finding["column"], 8);
    assert_eq!(finding["time"], "0:37");
    assert_eq!(finding["severity"], "error");
    assert_eq!(finding["rule"], "times-run-backwards");
}

/// What only lessons together can say is said of the note asked for, and of no other.
#[test]
fn one_note_is_judged_with_its_folder_as_context() {
    let folder = tempfile::tempdir().unwrap();
    let head = |order: u8| format!("title: Tangos {order}\norder: {order}\n\n[0:00] Tangos por medio (A phrygian)\n");
    let first = folder.path().join("first.notes.txt");
    let second = folder.path().join("second.notes.txt");
    fs::write(
        &first,
        head(1) + "[0:10] Bb over 1-4\n[0:20] 1 i dn (Bb), 2 i dn, 3 i dn, 4 p dn\n",
    )
    .unwrap();
    fs::write(
        &second,
        head(1) + "[0:10] Bb x13331\n[0:20] 1 i dn (Bb), 2 i dn, 3 i dn\n[0:15] 4 p dn\n",
    )
    .unwrap();
    let rules = |note: &Path| -> Vec<String> {
        let output = run(&["check", text(note), "--format", "json"]);
        let report: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
        let findings = report["findings"].as_array().unwrap();
        assert!(findings.iter().all(|finding| finding["file"] == text(note)), "{report}");
        findings
            .iter()
            .map(|finding| finding["rule"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(rules(&first), ["chord-before-taught"]);
    assert_eq!(rules(&second), ["lesson-number-twice", "times-run-backwards"]);
}

/// A reader that closes the pipe has what it wanted: no complaint, no panic.
#[test]
fn a_closed_pipe_is_no_panic() {
    for call in [
        &["completions", "bash"][..],
        &["completions", "zsh"],
        &["manual"],
        &["schema", "facts"],
        &["check", "--help"],
    ] {
        let mut child = compasario(call)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert!(!stderr(&output).contains("panicked"), "{call:?}: {}", stderr(&output));
        assert_eq!(status(&output), 0, "{call:?}: {}", stderr(&output));
    }
}

#[test]
fn completions_and_manual_name_the_commands() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = stdout(&run(&["completions", shell]));
        assert!(script.contains("preview"), "{shell}");
    }
    let manual = stdout(&run(&["manual"]));
    assert!(manual.contains(".TH compasario 1"), "{manual}");
    assert!(
        manual.contains("COMPASARIO CHECK") && manual.contains("\\-\\-explain"),
        "commands with their options"
    );
}

/// Control characters of a note do not reach the terminal.
#[test]
fn a_note_cannot_steer_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(
        folder.path().join("a.notes.txt"),
        "[0:43] tangos\n[0:37] 1 i dn \u{1b}]0;x\u{7}\n",
    )
    .unwrap();
    let told = stdout(&run(&["check", text(folder.path())]));
    assert!(
        told.contains("0:37") && !told.contains('\u{1b}') && !told.contains('\u{7}'),
        "{told:?}"
    );
}

/// A small core that can be read whatever else changes.
fn tangos() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let note = "[0:00] Tangos por medio (A phrygian)\n[0:06] Count 4. Tempo 112\n[0:10] A x02220\n\
                [0:20] 1 golpe (a)\n[0:24] 2 i dn, & i up (A)\n[0:28] 3 i dn\n[0:32] 4 p dn\n";
    fs::write(folder.path().join("tangos.notes.txt"), note).unwrap();
    folder
}

#[test]
fn exports_are_what_they_say() {
    let folder = tangos();
    let note = folder.path().join("tangos.notes.txt");
    let (read, json) = (
        run(&["read", text(&note), "--format", "json"]),
        run(&["export", text(&note), "--to", "json"]),
    );
    assert_eq!(stdout(&read), stdout(&json));
    let track = folder.path().join("track.wav");
    let wav = run(&[
        "export",
        text(&note),
        "--to",
        "wav",
        "--times",
        "2",
        "--count-in",
        "--out",
        text(&track),
    ]);
    assert_eq!(status(&wav), 0, "{}", stderr(&wav));
    // Two rounds of four counts at 112 a minute, and a compás of counting before them.
    let reader = hound::WavReader::open(&track).unwrap();
    let seconds = f64::from(reader.duration()) / f64::from(reader.spec().sample_rate);
    assert!(seconds >= 12.0 * 60.0 / 112.0, "{seconds} s");
    let unknown = run(&["export", text(&note), "--to", "wav", "--play", "nothing-like-it"]);
    assert_eq!(status(&unknown), 2);
    assert!(stderr(&unknown).contains("these are there:"), "{}", stderr(&unknown));
}

#[test]
fn a_draft_reads_back_as_the_same_lesson() {
    let folder = tangos();
    let drafted = stdout(&run(&["draft", text(&folder.path().join("tangos.notes.txt"))]));
    let again = folder.path().join("again.notes.txt");
    fs::write(&again, &drafted).unwrap();
    let facts = |note: &Path| -> serde_json::Value {
        serde_json::from_str(&stdout(&run(&["read", text(note), "--format", "json"]))).unwrap()
    };
    let (first, second) = (facts(&folder.path().join("tangos.notes.txt")), facts(&again));
    assert_eq!(first["patterns"], second["patterns"], "{drafted}");
    assert_eq!(first["lesson"]["meter"], second["lesson"]["meter"], "{drafted}");
}

/// A note of four counts that can be played.
fn folder_with_tangos() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let note = "palo: tangos\ncompás: 4\ntempo: 120\n\n[0:10] core, 1-4\n[0:12] A x02220 on 1\n[0:14] 1 i dn, 2 i up, 3 i dn, 4 golpe a\n";
    fs::write(folder.path().join("tangos.notes.txt"), note).unwrap();
    folder
}

#[test]
fn a_practice_track_is_as_long_as_what_it_plays_and_its_tail() {
    let folder = folder_with_tangos();
    let (note, out) = (folder.path().join("tangos.notes.txt"), folder.path().join("track.wav"));
    let track = run(&[
        "export",
        text(&note),
        "--to",
        "wav",
        "--play",
        "core",
        "--tempo",
        "120",
        "--times",
        "2",
        "--count-in",
        "--out",
        text(&out),
    ]);
    assert_eq!(status(&track), 0, "{}", stderr(&track));
    assert!(
        stderr(&track).starts_with("core: 120 counts a minute, 2 times, 0:04"),
        "{}",
        stderr(&track)
    );
    let reader = hound::WavReader::open(&out).unwrap();
    // Four counts lead in, eight are played, at half a second each; two seconds ring on.
    assert_eq!(reader.duration(), 44_100 * 8);
    let again = run(&[
        "export",
        text(&note),
        "--to",
        "wav",
        "--play",
        "core",
        "--tempo",
        "120",
        "--times",
        "2",
        "--count-in",
    ]);
    assert!(
        again.stdout == fs::read(&out).unwrap(),
        "the same note gives the same bytes"
    );
}

#[test]
fn a_track_of_something_unknown_is_refused_with_what_there_is() {
    let folder = folder_with_tangos();
    let note = folder.path().join("tangos.notes.txt");
    let track = run(&["export", text(&note), "--to", "wav", "--play", "nothing-like-it"]);
    assert_eq!(status(&track), 2);
    let said = stderr(&track);
    assert!(said.contains("there is no `nothing-like-it` to play"), "{said}");
    assert!(
        said.lines().any(|line| line.trim_start().starts_with("core ")),
        "{said}"
    );
    let listed = run(&["export", text(&note), "--to", "wav", "--play", "list"]);
    assert!(
        stdout(&listed)
            .lines()
            .any(|line| line.trim_start().starts_with("core "))
    );
}

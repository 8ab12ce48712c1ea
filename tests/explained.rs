//! Checks explained from the command line, and the language in which findings are framed.

use std::fs;
use std::process::{Command, Output, Stdio};

/// A call in a terminal that says nothing of its language.
fn compasario(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_compasario"));
    command.args(args).stdin(Stdio::null());
    for name in ["NO_COLOR", "CLICOLOR_FORCE", "LANG", "LC_ALL", "LC_MESSAGES"] {
        command.env_remove(name);
    }
    command
}

fn run(args: &[&str]) -> Output {
    compasario(args).output().unwrap()
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn a_check_is_explained() {
    let output = run(&["check", "--explain", "overlapping-spans"]);
    assert_eq!(output.status.code(), Some(0));
    for part in [
        "overlapping-spans",
        "A note that trips it",
        "The same, put right",
        "(let stand overlapping-spans:",
    ] {
        assert!(stdout(&output).contains(part), "{part}");
    }
    let typo = run(&["check", "--explain", "overlaping-spans"]);
    assert_eq!(typo.status.code(), Some(2));
    let complaint = String::from_utf8(typo.stderr).unwrap();
    assert!(complaint.contains("Did you mean overlapping-spans?"), "{complaint}");
}

/// Without a note at hand a check is explained in the language of the terminal.
#[test]
fn a_check_is_explained_in_the_terminals_language() {
    for (locales, wanted) in [
        (&[("LANG", "es_ES.UTF-8")][..], "La misma, corregida"),
        (&[("LANG", "es")], "(se queda overlapping-spans:"),
        (&[("LANG", "es_ES.UTF-8"), ("LC_ALL", "C")], "The same, put right"),
        (&[("LANG", "de_AT.UTF-8")], "The same, put right"),
        (&[], "The same, put right"),
    ] {
        let mut call = compasario(&["check", "--explain", "overlapping-spans"]);
        let output = call.envs(locales.iter().copied()).output().unwrap();
        assert!(stdout(&output).contains(wanted), "{locales:?}: {}", stdout(&output));
    }
}

/// What stands around the findings is in the language of the notes.
#[test]
fn the_frame_of_findings_is_in_the_language_of_the_notes() {
    let folder = tempfile::tempdir().unwrap();
    let note = folder.path().join("tangos.es.notes.txt");
    let text = "[0:00] tangos por medio (la frigio)\n[0:07] compás de 4, acentos 2 3 5. tempo 60\n[0:14] A x02210\n";
    fs::write(&note, text).unwrap();
    let output = run(&["check", note.to_str().unwrap()]);
    for part in [
        "error: hay un acento",
        "por qué: ",
        "remedio: ",
        "más: ",
        "nota: ",
        "2 errores y 1 nota en 1 archivo",
    ] {
        assert!(stdout(&output).contains(part), "{part}: {}", stdout(&output));
    }
}

#[test]
fn every_check_is_listed_in_the_help_and_explained() {
    let help = stdout(&run(&["check", "--help"]));
    for check in compasario::checks::CHECKS {
        assert!(help.contains(check.id), "{}", check.id);
    }
}

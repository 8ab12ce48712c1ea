//! What may be typed: clap's types and nothing else.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// The whole command line.
#[derive(Debug, Parser)]
#[command(
    name = "compasario",
    version,
    about = "A folder of flamenco guitar lesson notes becomes a checked, linked practice website",
    long_about = "Reads a teacher's timed lesson notes and transcripts (English or Spanish, typed or spoken), \
        checks that they add up, and makes a practice website of them that works offline.",
    after_help = "Exit status: 0 fine; 1 findings of severity error (for compare: differences); \
        2 the call or the files could not be used.",
    max_term_width = 100,
    subcommand_required = true,
    arg_required_else_help = true
)]
pub struct Cli {
    /// Colour in what is printed; auto colours a terminal unless NO_COLOR is set
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto, value_name = "WHEN")]
    pub color: Colour,
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    Auto,
    Always,
    Never,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make the course website from a folder of notes
    Build(BuildArgs),
    /// Say what does not add up in a folder or a note, and what would put it right
    Check(CheckArgs),
    /// Show what was understood of a note, and from which words
    Read(ReadArgs),
    /// Write a transcript as a note in the written form, with the open questions marked
    Draft(DraftArgs),
    /// Say what changed in the music, in the words and in the pages
    Compare(CompareArgs),
    /// Serve the site on this machine, rebuilding it as notes are saved
    Preview(PreviewArgs),
    /// Make a practice plan from a note
    Plan(PlanArgs),
    /// Write a lesson in an open format
    Export(ExportArgs),
    /// Print the JSON Schema of what `--format json` prints
    Schema(SchemaArgs),
    /// Print the completions for a shell
    Completions(CompletionsArgs),
    /// Print the manual page
    Manual,
}

#[derive(Debug, Args)]
pub struct BuildArgs {
    /// The folder of notes
    #[arg(value_name = "NOTES")]
    pub notes: PathBuf,
    /// The folder to make the site in
    #[arg(long, value_name = "SITE")]
    pub out: PathBuf,
    /// Publish nothing while there are errors, and leave out lessons whose reading was not reviewed
    #[arg(long)]
    pub strict: bool,
    /// The day to put on what this build changes, as YYYY-MM-DD [default: SOURCE_DATE_EPOCH, if set]
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// The address the site will stand at, for the feed and the site map
    #[arg(long, value_name = "URL")]
    pub base_url: Option<String>,
    /// Note in NOTES/history.jsonl what this build changes: for every publication
    #[arg(long)]
    pub keep_history: bool,
    /// Copy the recordings that the notes name into the site
    #[arg(long)]
    pub copy_recordings: bool,
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// A folder of notes, or one note (judged beside the others in its folder)
    #[arg(value_name = "NOTES", required_unless_present = "explain")]
    pub notes: Option<PathBuf>,
    /// Explain a check: what it finds, why it matters, an example and the same put right
    #[arg(long, value_name = "ID", conflicts_with = "notes")]
    pub explain: Option<String>,
    #[arg(long, value_enum, default_value_t = CheckFormat::Text)]
    pub format: CheckFormat,
    /// The file to write; without it what is found goes to standard output
    #[arg(long, value_name = "FILE", conflicts_with = "explain")]
    pub out: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum CheckFormat {
    Text,
    Json,
    /// The teacher's report: one page, never part of the site
    Html,
}

#[derive(Debug, Args)]
pub struct ReadArgs {
    #[arg(value_name = "NOTE")]
    pub note: PathBuf,
    #[arg(long, value_enum, default_value_t = PageFormat::Text)]
    pub format: PageFormat,
}

/// For a person in the terminal, for a program, for the browser.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PageFormat {
    Text,
    Json,
    Html,
}

#[derive(Debug, Args)]
pub struct DraftArgs {
    #[arg(value_name = "TRANSCRIPT")]
    pub transcript: PathBuf,
}

#[derive(Debug, Args)]
pub struct CompareArgs {
    /// The older folder, note, or built site
    #[arg(value_name = "OLD")]
    pub old: PathBuf,
    /// The newer one
    #[arg(value_name = "NEW")]
    pub new: PathBuf,
    #[arg(long, value_enum, default_value_t = PageFormat::Text)]
    pub format: PageFormat,
}

#[derive(Debug, Args)]
pub struct PreviewArgs {
    /// The folder of notes
    #[arg(value_name = "NOTES")]
    pub notes: PathBuf,
    /// The port to serve on; 0 takes any free one
    #[arg(long, default_value_t = 0, value_name = "PORT")]
    pub port: u16,
}

#[derive(Debug, Args)]
pub struct PlanArgs {
    #[arg(value_name = "NOTE")]
    pub note: PathBuf,
    #[command(flatten)]
    pub days: DaysArgs,
    #[arg(long, value_enum, default_value_t = PlanFormat::Text)]
    pub format: PlanFormat,
}

/// How practice is spread over days.
#[derive(Debug, Args)]
#[command(next_help_heading = "Days of practice")]
pub struct DaysArgs {
    /// Minutes of practice a day
    #[arg(long, default_value_t = 30, value_name = "MINUTES", value_parser = clap::value_parser!(u32).range(5..=240))]
    pub minutes: u32,
    /// The first day, as YYYY-MM-DD [default: SOURCE_DATE_EPOCH, if set; otherwise days are numbered]
    #[arg(long, value_name = "DATE")]
    pub from: Option<String>,
    /// When a session begins, as HH:MM: for the calendar
    #[arg(long, default_value = "19:00", value_name = "TIME")]
    pub at: String,
    /// One thing at a time, or in turns; the evidence is split
    #[arg(long, value_enum, default_value_t = Arrangement::Blocked)]
    pub arrange: Arrangement,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Arrangement {
    Blocked,
    Rotated,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PlanFormat {
    Text,
    Html,
    Json,
    /// iCalendar (RFC 5545)
    Ics,
}

#[derive(Debug, Args)]
pub struct ExportArgs {
    #[arg(value_name = "NOTE")]
    pub note: PathBuf,
    #[arg(long, value_enum, value_name = "FORMAT")]
    pub to: ExportFormat,
    /// The file to write; without it the export goes to standard output
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub track: TrackArgs,
    #[command(flatten)]
    pub days: DaysArgs,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ExportFormat {
    /// The facts, as `read --format json` prints them
    Json,
    /// A practice track (RIFF WAVE)
    Wav,
    /// Standard MIDI File: guitar, golpe, palmas, click
    #[value(alias = "mid")]
    Midi,
    /// MusicXML 4.0: notes, tablature, chord names, right hand
    #[value(name = "musicxml")]
    MusicXml,
    /// Chapters of the recording (WebVTT): where each pattern begins
    #[value(alias = "webvtt")]
    Chapters,
    /// Captions of the recording (WebVTT): what is taught at each moment
    Captions,
    /// The practice plan (iCalendar, RFC 5545)
    Ics,
}

/// What is heard on a practice track, or written as notes.
#[derive(Debug, Args)]
#[command(next_help_heading = "Practice track, MIDI, MusicXML")]
pub struct TrackArgs {
    /// What to play: a version, a piece, a join, a circuit or a mix, by its id; `list` prints them all
    /// [default: the first version, whole; in notes every version once]
    #[arg(long, value_name = "ID")]
    pub play: Option<String>,
    /// Counts a minute (pulses where counts are uneven, moves where there is no count) [default: the goal]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(10..=600))]
    pub tempo: Option<u32>,
    /// Claps along with it
    #[arg(long, value_enum, default_value_t = PalmasHeard::Base)]
    pub palmas: PalmasHeard,
    /// A click along with it
    #[arg(long, value_enum, default_value_t = ClickHeard::None)]
    pub click: ClickHeard,
    /// Count before it begins
    #[arg(long)]
    pub count_in: bool,
    /// How many times it is played
    #[arg(long, default_value_t = 1, value_name = "TIMES", value_parser = clap::value_parser!(u32).range(1..=200))]
    pub times: u32,
    /// The hands that are heard; the right alone is on damped strings
    #[arg(long, value_enum, default_value_t = HandsHeard::Both)]
    pub hands: HandsHeard,
    /// Leave the guitar out: count and palmas to play to
    #[arg(long)]
    pub no_guitar: bool,
    /// Hertz of the A that the guitar is tuned to
    #[arg(long, value_name = "HERTZ", default_value_t = 440.0, value_parser = a_of_a_tuning_fork)]
    pub a4: f64,
}

fn a_of_a_tuning_fork(text: &str) -> Result<f64, String> {
    let hertz = text.parse::<f64>().ok().filter(|hertz| (400.0..=480.0).contains(hertz));
    hertz.ok_or_else(|| "a figure from 400 to 480, like 440 or 442.5".to_owned())
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum HandsHeard {
    Both,
    Right,
    Left,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PalmasHeard {
    None,
    Base,
    Contra,
    Both,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ClickHeard {
    None,
    Counts,
    Accents,
    /// Off the beat
    Between,
    /// Once a compás
    Once,
}

#[derive(Debug, Args)]
pub struct SchemaArgs {
    #[arg(value_enum, value_name = "WHICH")]
    pub which: Schema,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Schema {
    /// `read --format json`
    Facts,
    /// `check --format json`
    Findings,
    /// `compare --format json`
    Comparison,
}

#[derive(Debug, Args)]
pub struct CompletionsArgs {
    #[arg(value_enum, value_name = "SHELL")]
    pub shell: clap_complete::Shell,
}

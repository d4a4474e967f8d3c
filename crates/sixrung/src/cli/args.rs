//! The command line's grammar.

mod render;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

pub(crate) use render::{Click, Depth, Divide, Part, Render, Strings, Thin};

/// Plays the part of a lesson, listens, judges each pass, and climbs a tempo ladder to the original tempo.
#[derive(Debug, Parser)]
#[command(name = "sixrung", version, args_conflicts_with_subcommands = true)]
pub(crate) struct Cli {
    /// What to do; without it the window opens.
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
    /// What the window opens on.
    #[command(flatten)]
    pub(crate) window: Window,
}

/// The window's options.
#[derive(Debug, Args)]
pub(crate) struct Window {
    /// The lesson to open: a file, or a demo's name; without it the last one, or the demo.
    pub(crate) lesson: Option<String>,
    /// Where the journal is kept, instead of the user's own data folder.
    #[arg(long, value_name = "DIR")]
    pub(crate) data: Option<PathBuf>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Read and check lessons; findings go to stderr with line:column.
    Check(Check),
    /// Write the sound of a lesson to a WAV file.
    Render(Render),
    /// Judge a recording exactly as the stand would.
    Judge(Judge),
    /// Learn from a recording how one player's shapes and strokes sound, so that `judge` can tell strings and directions.
    Learn(Learn),
    /// Hear changes between two chords, to and fro, in a recording: how long each took, and what tempo that fits.
    Changes(Changes),
    /// Measure how long sound takes through the sound devices and back, or check what they do to a guitar.
    Calibrate(Calibrate),
    /// Print a lesson: chords, strokes, words and a ladder to tick, on paper.
    Guide(Guide),
    /// Make a recording slower or faster at its own pitch, or at another.
    Stretch(Stretch),
    /// Make an assignment for a learner: a file with the lesson and what is asked.
    Assign(Assign),
    /// Make the report on an assignment, or print one.
    Report(Report),
    /// List sound devices.
    Devices(Devices),
}

/// `check`.
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// Lesson files, or demo names.
    #[arg(required = true)]
    pub(crate) lessons: Vec<String>,
    /// Print the findings as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// Which stretch of a lesson, how, and how fast.
#[derive(Debug, Args)]
pub(crate) struct What {
    /// The lesson: a file, or a demo's name.
    pub(crate) lesson: String,
    /// A section by name; the whole form without it.
    #[arg(long)]
    pub(crate) section: Option<String>,
    /// Bars of the section, from 1, for example 3-4.
    #[arg(long, requires = "section", value_name = "FIRST-LAST")]
    pub(crate) bars: Option<String>,
    /// Tempo in beats a minute; the original tempo without it.
    #[arg(long, conflicts_with = "percent")]
    pub(crate) bpm: Option<f64>,
    /// Tempo in percent of the original, in whole beats a minute as rungs are.
    #[arg(long)]
    pub(crate) percent: Option<f64>,
    /// Passes, 1 to 1000.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub(crate) passes: u32,
    /// An arrangement by name; the lesson's first without it.
    #[arg(long)]
    pub(crate) arrangement: Option<String>,
}

/// `judge`.
#[derive(Debug, Args)]
pub(crate) struct Judge {
    #[command(flatten)]
    pub(crate) what: What,
    /// The recording: WAV, FLAC, OGG or MP3.
    pub(crate) take: PathBuf,
    /// Where bar 1 beat 1 of the first pass lies in the take, in seconds; found by itself without it.
    #[arg(long, value_name = "SECONDS", allow_negative_numbers = true)]
    pub(crate) starts_at: Option<f64>,
    /// What the program played meanwhile, as `render` writes it, beginning with the take and at its rate: it is learned
    /// before the first pass how it gets into the recording, and taken off.
    #[arg(long, value_name = "REF")]
    pub(crate) played: Option<PathBuf>,
    /// What `learn` wrote of the same player on the same guitar; without it strings and directions are not told.
    #[arg(long, value_name = "FILE")]
    pub(crate) learned: Option<PathBuf>,
    /// How patient the timing window is; the lesson's own without it.
    #[arg(long)]
    pub(crate) level: Option<Level>,
    /// How late the recording is, in milliseconds; taken off every time heard.
    #[arg(long, value_name = "N", allow_negative_numbers = true, default_value_t = 0.0)]
    pub(crate) latency_ms: f64,
    /// Print the verdict as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// The timing windows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Level {
    /// ± 80 ms.
    Beginner,
    /// ± 60 ms.
    Improver,
    /// ± 40 ms.
    Advanced,
}

impl From<Level> for sixrung_lesson::Level {
    fn from(level: Level) -> Self {
        match level {
            Level::Beginner => Self::Beginner,
            Level::Improver => Self::Improver,
            Level::Advanced => Self::Advanced,
        }
    }
}

/// `learn`.
#[derive(Debug, Args)]
pub(crate) struct Learn {
    /// The lesson: a file, or a demo's name.
    pub(crate) lesson: String,
    /// The recording: of each shape in the lesson's order five slow down-strokes, then down and up in turn, in all
    /// twenty of each or a few more.
    pub(crate) take: PathBuf,
    /// The file to write.
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Print what was learned as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// `changes`.
#[derive(Debug, Args)]
pub(crate) struct Changes {
    /// The lesson: a file, or a demo's name.
    pub(crate) lesson: String,
    /// The recording: one chord struck once or more, then the other, and back, at any pace.
    pub(crate) take: PathBuf,
    /// The one chord, as the lesson writes it.
    #[arg(long, value_name = "CHORD")]
    pub(crate) from: String,
    /// The other chord.
    #[arg(long, value_name = "CHORD")]
    pub(crate) to: String,
    /// What `learn` wrote of the same player on the same guitar.
    #[arg(long, value_name = "FILE")]
    pub(crate) learned: Option<PathBuf>,
    /// Print what was heard as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// `calibrate`.
#[derive(Debug, Args)]
pub(crate) struct Calibrate {
    /// Tap along on the guitar instead: where the microphone can't hear the speakers.
    #[arg(long, conflicts_with = "check")]
    pub(crate) tap: bool,
    /// Play a few strums and find out what the system does to them.
    #[arg(long)]
    pub(crate) check: bool,
    /// Where the journal is kept, instead of the user's own data folder: it names the devices, and keeps what is found.
    #[arg(long, value_name = "DIR")]
    pub(crate) data: Option<PathBuf>,
    /// Print what was found as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// `guide`.
#[derive(Debug, Args)]
pub(crate) struct Guide {
    /// The lesson: a file, or a demo's name.
    pub(crate) lesson: String,
    /// The file to write: PDF if it ends in .pdf, SVG if it ends in .svg. SVG has one file a page: the second page of
    /// guide.svg is guide-2.svg.
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// What paper it is for.
    #[arg(long, default_value = "a4")]
    pub(crate) paper: Paper,
    /// Mirror the strings of the diagrams.
    #[arg(long)]
    pub(crate) left_handed: bool,
    /// Large print.
    #[arg(long)]
    pub(crate) large: bool,
    /// An arrangement by name; the lesson's first without it.
    #[arg(long)]
    pub(crate) arrangement: Option<String>,
    /// Print what was written as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// Papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 8.5 × 11 inches.
    Letter,
}

/// `stretch`.
#[derive(Debug, Args)]
pub(crate) struct Stretch {
    /// The recording: WAV, FLAC, OGG or MP3, twelve minutes at most.
    pub(crate) recording: PathBuf,
    /// How fast: 0.5 takes twice as long.
    #[arg(long, value_name = "R", default_value_t = 1.0)]
    pub(crate) speed: f64,
    /// So many semitones higher; a fraction will do.
    #[arg(long, value_name = "N", default_value_t = 0.0, allow_negative_numbers = true)]
    pub(crate) semitones: f64,
    /// Bring it to the loudness the stand plays at.
    #[arg(long)]
    pub(crate) level: bool,
    /// The WAV file to write.
    #[arg(long, value_name = "FILE.wav")]
    pub(crate) out: PathBuf,
    /// Print what was written as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// `assign`.
#[derive(Debug, Args)]
pub(crate) struct Assign {
    /// The lesson: a file, or a demo's name.
    pub(crate) lesson: String,
    /// The file to write; it may end in .assignment.ron.
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Who it is for: a nickname will do.
    #[arg(long = "for", value_name = "NAME")]
    pub(crate) learner: Option<String>,
    /// A section by name; may be given several times; all of them without it.
    #[arg(long = "section", value_name = "S")]
    pub(crate) sections: Vec<String>,
    /// An arrangement by name; the lesson's first without it.
    #[arg(long, value_name = "A")]
    pub(crate) arrangement: Option<String>,
    /// The first rung, in beats a minute or, with %, of the original tempo.
    #[arg(long, value_name = "BPM|%")]
    pub(crate) start: Option<String>,
    /// The last rung; the original tempo without it.
    #[arg(long, value_name = "BPM|%")]
    pub(crate) goal: Option<String>,
    /// On how many days, 1 to 60.
    #[arg(long, value_name = "N")]
    pub(crate) days: Option<u16>,
    /// How many minutes on each, 5 to 120.
    #[arg(long, value_name = "N")]
    pub(crate) minutes: Option<u16>,
    /// The first day; today without it.
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) from: Option<String>,
    /// The day it is due.
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) due: Option<String>,
    /// One sentence: what to attend to.
    #[arg(long, value_name = "TEXT")]
    pub(crate) focus: Option<String>,
    /// When to stop and ask.
    #[arg(long, value_name = "TEXT")]
    pub(crate) stop_on: Option<String>,
    /// How patient the timing window is; the lesson's own without it.
    #[arg(long)]
    pub(crate) level: Option<Level>,
    /// Faults allowed in a pass; as the lesson has it without it.
    #[arg(long, value_name = "N")]
    pub(crate) faults: Option<u16>,
    /// Clean passes in a row that climb; as the lesson has it without it.
    #[arg(long, value_name = "N")]
    pub(crate) up_after: Option<u8>,
    /// Passes not clean in a row that fall; as the lesson has it without it.
    #[arg(long, value_name = "N")]
    pub(crate) down_after: Option<u8>,
    /// Print what was written as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// `report`.
#[derive(Debug, Args)]
pub(crate) struct Report {
    /// A report to print.
    #[arg(value_name = "FILE", required_unless_present = "assignment")]
    pub(crate) report: Option<PathBuf>,
    /// The assignment to report on; with a report, the one it is held against.
    #[arg(long, value_name = "FILE")]
    pub(crate) assignment: Option<PathBuf>,
    /// The report to write, after what is in it has been printed; without it nothing is written.
    #[arg(long, value_name = "FILE", requires = "assignment", conflicts_with = "report")]
    pub(crate) out: Option<PathBuf>,
    /// A line for the teacher.
    #[arg(long, value_name = "TEXT", conflicts_with = "report")]
    pub(crate) note: Option<String>,
    /// Where the journal is kept, instead of the user's own data folder.
    #[arg(long, value_name = "DIR", conflicts_with = "report")]
    pub(crate) data: Option<PathBuf>,
    /// Print it as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

/// `devices`.
#[derive(Debug, Args)]
pub(crate) struct Devices {
    /// Print them as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

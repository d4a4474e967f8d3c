//! What `render` is called with.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::What;

/// `render`.
#[derive(Debug, Args)]
pub(crate) struct Render {
    #[command(flatten)]
    pub(crate) what: What,
    /// The file to write: FLAC if it ends in .flac, else WAV.
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Also write every part alone into this folder; together they are the mix before its limiter.
    #[arg(long, value_name = "DIR")]
    pub(crate) stems: Option<PathBuf>,
    /// Bits a sample; without it 32f in a WAV, 24 in a FLAC.
    #[arg(long)]
    pub(crate) bits: Option<Depth>,
    /// Parts to hear, with commas.
    #[arg(long, value_delimiter = ',', default_value = "click,strum")]
    pub(crate) parts: Vec<Part>,
    /// What clicks.
    #[arg(long, default_value = "wood")]
    pub(crate) click: Click,
    /// Let the click leave beats out, so that the player carries the time.
    #[arg(long)]
    pub(crate) thin: Option<Thin>,
    /// Let the click divide the beat.
    #[arg(long, value_name = "PARTS")]
    pub(crate) divide: Option<Divide>,
    /// The first beat of a bar clicks like the others.
    #[arg(long)]
    pub(crate) even: bool,
    /// The clicks of the count-in step up.
    #[arg(long)]
    pub(crate) rising: bool,
    /// So many semitones higher, as with a capo; negative: lower.
    #[arg(long, value_name = "N", default_value_t = 0, allow_negative_numbers = true,
        value_parser = clap::value_parser!(i8).range(-12..=12))]
    pub(crate) semitones: i8,
    /// What the guitar is strung with.
    #[arg(long, default_value = "steel")]
    pub(crate) strings: Strings,
    /// By how many percent the loudness of single strings varies, 0 to 50.
    #[arg(long, value_name = "PERCENT", default_value_t = 5, value_parser = clap::value_parser!(u8).range(0..=50))]
    pub(crate) unevenness: u8,
    /// Another number, another unevenness.
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub(crate) seed: u64,
    /// Tell its loudness (EBU R 128) and true peak.
    #[arg(long)]
    pub(crate) measure: bool,
    /// Leave the music as loud as its strokes make it, not brought to −18 LUFS.
    #[arg(long)]
    pub(crate) as_played: bool,
    /// Frames a second, 8000 to 192000.
    #[arg(long, default_value_t = 48_000, value_parser = clap::value_parser!(u32).range(8_000..=192_000))]
    pub(crate) rate: u32,
    /// Begin with the count-in.
    #[arg(long)]
    pub(crate) count_in: bool,
    /// Print what was written as JSON on stdout.
    #[arg(long)]
    pub(crate) json: bool,
}

/// What can sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Part {
    /// The click.
    Click,
    /// The strummed guitar.
    Strum,
    /// A plain bass.
    Bass,
    /// Brushes on a drum.
    Brushes,
}

impl Part {
    /// Every part.
    pub(crate) const ALL: [Self; 4] = [Self::Click, Self::Strum, Self::Bass, Self::Brushes];

    /// As it is called here.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Click => "click",
            Self::Strum => "strum",
            Self::Bass => "bass",
            Self::Brushes => "brushes",
        }
    }
}

/// What clicks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Click {
    /// A block of wood.
    Wood,
    /// A small bar of metal.
    Bell,
    /// A fingernail on a table.
    Tick,
}

/// What a guitar is strung with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Strings {
    /// Steel, struck with a pick.
    Steel,
    /// Nylon, struck with the fingers.
    Nylon,
}

/// Which beats click.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Thin {
    /// Only the first of a bar.
    First,
    /// Only the second and the fourth.
    Even,
    /// One bar heard, one silent.
    SilentBars,
}

/// Parts of a beat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Divide {
    /// Two.
    #[value(name = "2")]
    Two,
    /// Three.
    #[value(name = "3")]
    Three,
    /// Four.
    #[value(name = "4")]
    Four,
}

/// Bits a sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Depth {
    /// 16, integers.
    #[value(name = "16")]
    Sixteen,
    /// 24, integers.
    #[value(name = "24")]
    TwentyFour,
    /// 32, floating point.
    #[value(name = "32f")]
    Float,
}

//! How long sound takes from the program through speaker and microphone back into it, for each pair of devices.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::Moment;

use crate::error::JournalError;
use crate::open::Journal;

/// What a round trip belongs to: change any of it and it must be measured anew.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DevicePair {
    /// The output device, by its lasting name.
    pub output: String,
    /// The input device, by its lasting name.
    pub input: String,
    /// Frames a second.
    pub rate_hz: u32,
    /// Frames in a buffer; 0 where the device chooses.
    pub buffer_frames: u32,
}

/// How a round trip was found. Tapping along finds it less the player's own anticipation, the others without.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measured {
    /// From a pass played along.
    FromPass,
    /// The program heard its own sound.
    Loopback,
    /// The player tapped along with a click.
    TapAlong,
    /// Set by hand.
    ByHand,
}

/// A measured round trip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundTrip {
    /// Milliseconds.
    pub ms: f64,
    /// Spread of the measurements, in milliseconds.
    pub spread_ms: f64,
    /// How it was found.
    pub how: Measured,
    /// When.
    pub measured: Moment,
}

impl Journal {
    /// The round trip of this pair.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn round_trip(&self, pair: &DevicePair) -> Result<Option<RoundTrip>, JournalError> {
        let sql = "SELECT ms, spread_ms, how, measured FROM round_trips
                   WHERE output = ?1 AND input = ?2 AND rate_hz = ?3 AND buffer_frames = ?4";
        let row = self
            .db
            .prepare_cached(sql)?
            .query_row(params![pair.output, pair.input, pair.rate_hz, pair.buffer_frames], |row| {
                Ok((row.get(0)?, row.get(1)?, row.get::<_, String>(2)?, row.get(3)?))
            })
            .optional()?;
        let Some((ms, spread_ms, how, measured)) = row else { return Ok(None) };
        Ok(Some(RoundTrip { ms, spread_ms, how: measured_how(&how)?, measured: Moment(measured) }))
    }

    /// Keeps the round trip of this pair in place of any before.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn set_round_trip(&self, pair: &DevicePair, trip: &RoundTrip) -> Result<(), JournalError> {
        let sql = "INSERT OR REPLACE INTO round_trips VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)";
        self.db.prepare_cached(sql)?.execute(params![
            pair.output,
            pair.input,
            pair.rate_hz,
            pair.buffer_frames,
            trip.ms,
            trip.spread_ms,
            how_word(trip.how),
            trip.measured.0,
        ])?;
        Ok(())
    }
}

const fn how_word(how: Measured) -> &'static str {
    match how {
        Measured::FromPass => "from_pass",
        Measured::Loopback => "loopback",
        Measured::TapAlong => "tap_along",
        Measured::ByHand => "by_hand",
    }
}

pub(crate) fn measured_how(word: &str) -> Result<Measured, JournalError> {
    match word {
        "from_pass" => Ok(Measured::FromPass),
        "loopback" => Ok(Measured::Loopback),
        "tap_along" => Ok(Measured::TapAlong),
        "by_hand" => Ok(Measured::ByHand),
        _ => Err(JournalError::damaged(format!("no such way to measure a round trip: {word}"))),
    }
}

//! What is heard, and how loud.

use sixrung_audio::ClickSound;
use sixrung_timeline::Clicks;

/// What has a volume of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The click.
    Click,
    /// The guitar that plays the part.
    Guitar,
    /// The learner's own recording.
    Song,
    /// A plain bass.
    Bass,
    /// Brushes on a drum.
    Brushes,
    /// Everything.
    Master,
}

impl Part {
    /// What is mixed together.
    pub const MIXED: [Self; 5] = [Self::Click, Self::Guitar, Self::Song, Self::Bass, Self::Brushes];
}

/// How loud things are, in decibels: 0 is as made, [`Volumes::SILENT_DB`] and below is off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volumes {
    /// The click.
    pub click_db: f32,
    /// The guitar that plays the part.
    pub guitar_db: f32,
    /// The learner's own recording.
    pub song_db: f32,
    /// The bass; off when new.
    pub bass_db: f32,
    /// The brushes; off when new.
    pub brushes_db: f32,
    /// Everything.
    pub master_db: f32,
    /// What is silent for now, its volume kept, in the order of [`Part::MIXED`].
    pub muted: [bool; Part::MIXED.len()],
    /// What alone is heard for now.
    pub only: Option<Part>,
}

impl Default for Volumes {
    fn default() -> Self {
        Self {
            click_db: 0.0,
            guitar_db: 0.0,
            song_db: 0.0,
            bass_db: Self::SILENT_DB,
            brushes_db: Self::SILENT_DB,
            master_db: 0.0,
            muted: [false; Part::MIXED.len()],
            only: None,
        }
    }
}

impl Volumes {
    /// The low end of every volume control: off.
    pub const SILENT_DB: f32 = -48.0;
    /// The high end of every volume control.
    pub const LOUDEST_DB: f32 = 6.0;

    /// What a part is set to.
    #[must_use]
    pub const fn db(&self, part: Part) -> f32 {
        match part {
            Part::Click => self.click_db,
            Part::Guitar => self.guitar_db,
            Part::Song => self.song_db,
            Part::Bass => self.bass_db,
            Part::Brushes => self.brushes_db,
            Part::Master => self.master_db,
        }
    }

    /// Sets it.
    pub fn set(&mut self, part: Part, db: f32) {
        match part {
            Part::Click => self.click_db = db,
            Part::Guitar => self.guitar_db = db,
            Part::Song => self.song_db = db,
            Part::Bass => self.bass_db = db,
            Part::Brushes => self.brushes_db = db,
            Part::Master => self.master_db = db,
        }
    }

    /// Whether it is silent for now.
    #[must_use]
    pub fn is_muted(&self, part: Part) -> bool {
        Part::MIXED.iter().zip(self.muted).any(|(mixed, muted)| *mixed == part && muted)
    }

    /// Mutes it, or no longer.
    pub fn toggle_mute(&mut self, part: Part) {
        if let Some(place) = Part::MIXED.iter().position(|mixed| *mixed == part) {
            self.muted[place] = !self.muted[place];
        }
    }

    /// Lets it alone be heard, or no longer.
    pub fn toggle_only(&mut self, part: Part) {
        self.only = if self.only == Some(part) { None } else { Some(part) };
    }

    /// How loud it is heard: what is muted, or not the only one to be heard, is silent.
    #[must_use]
    pub fn heard_db(&self, part: Part) -> f32 {
        let silenced = part != Part::Master
            && match self.only {
                Some(only) => only != part,
                None => self.is_muted(part),
            };
        if silenced { Self::SILENT_DB } else { self.db(part) }
    }
}

/// How the click sounds and goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ClickChoice {
    /// What is struck.
    pub sound: ClickSound,
    /// When.
    pub clicks: Clicks,
}

#[cfg(test)]
mod tests {
    use super::{Part, Volumes};

    #[test]
    fn one_alone_is_heard_also_when_it_was_muted() {
        let mut volumes = Volumes { bass_db: -6.0, ..Volumes::default() };
        let heard = |volumes: &Volumes| Part::MIXED.map(|part| volumes.heard_db(part) > Volumes::SILENT_DB);
        assert_eq!(heard(&volumes), [true, true, true, true, false], "brushes are off when new");
        volumes.toggle_mute(Part::Bass);
        assert_eq!(heard(&volumes), [true, true, true, false, false]);
        volumes.toggle_only(Part::Bass);
        assert_eq!(heard(&volumes), [false, false, false, true, false]);
        volumes.toggle_only(Part::Click);
        assert_eq!(heard(&volumes), [true, false, false, false, false]);
        volumes.toggle_only(Part::Click);
        volumes.toggle_mute(Part::Bass);
        assert_eq!(heard(&volumes), [true, true, true, true, false]);
        assert_eq!(volumes.heard_db(Part::Master).to_bits(), 0.0_f32.to_bits());
    }
}

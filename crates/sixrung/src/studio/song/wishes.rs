//! What the player wants done with the recording.

use std::path::PathBuf;

use sixrung_audio::{Command, Prepared, Report};
use sixrung_practice::Moment;
use sixrung_song::{MapError, Taps};
use sixrung_timeline::Tempo;

use super::{Preview, Studio};
use crate::song::{Kept, MOST_SEMITONES, Marks, preview};
use crate::stand::{Note, Page, SongWish};

/// Ids of previews count down from the highest, where no run's ever comes.
const PREVIEW_IDS: u64 = u64::MAX;
/// The shortest and the longest stretch drawn, in seconds.
pub(super) const ZOOM_S: (f64, f64) = (1.0, 64.0);

impl Studio {
    pub(in crate::studio) fn song_wish(&mut self, wish: SongWish, now: Moment) {
        let at_s = self.song_at_s();
        match wish {
            SongWish::Open(path) => self.open_song(path, now),
            SongWish::Forget => self.forget_song(now),
            SongWish::Cancel => self.songs.worker.stop(),
            SongWish::Again => {
                self.songs.refused.clear();
                self.songs.trouble = None;
            }
            SongWish::Play => self.play_song(at_s),
            SongWish::To(to_s) => self.move_to(to_s),
            SongWish::By(by_s) => self.move_to(at_s + by_s),
            SongWish::ByBeats(beats) => {
                let map = self.songs.marks().and_then(|marks| marks.map().ok());
                let to_s = map.map(|map| map.at(map.beat_at(at_s).round() + f64::from(beats)));
                self.move_to(to_s.unwrap_or(at_s + 0.5 * f64::from(beats)));
            }
            SongWish::Zoom(steps) => {
                let zoom_s = self.songs.desk.zoom_s * 2.0_f64.powi(-i32::from(steps));
                self.songs.desk.zoom_s = zoom_s.clamp(ZOOM_S.0, ZOOM_S.1);
            }
            SongWish::Clicks => self.songs.desk.clicks = !self.songs.desk.clicks,
            SongWish::Tap => self.tap(at_s),
            SongWish::TakeTapped => {
                let tapped = self.songs.desk.taps.tapped().map(|tapped| tapped.tempo);
                if let Some(tempo) = tapped {
                    self.songs.desk.taps = Taps::default();
                    self.mark(now, |marks| marks.with_tempo(tempo));
                }
            }
            SongWish::Tempo(bpm) => match Tempo::from_bpm(bpm) {
                Some(tempo) => self.mark(now, |marks| marks.with_tempo(tempo)),
                None => self.songs.trouble = Some(no_tempo()),
            },
            SongWish::TakeFound => {
                if let Some(found) = self.songs.loaded.clone().and_then(|loaded| loaded.found.clone()) {
                    self.mark(now, |marks| marks.with_found(&found));
                }
            }
            SongWish::Bar1 => {
                let loaded = self.songs.loaded.clone();
                self.mark(now, |marks| {
                    marks.with_start(at_s, loaded.as_ref().and_then(|loaded| loaded.found.as_ref()))
                });
                if let Some(start_s) = self.songs.marks().map(|marks| marks.start_s).filter(|_| !self.song_plays()) {
                    self.songs.desk.cursor_s = start_s;
                }
            }
            SongWish::Anchor => self.mark(now, |marks| marks.with_anchor(at_s)),
            SongWish::NoAnchor => self.mark(now, |marks| marks.without_anchor(at_s)),
            SongWish::Nudge(ms) => self.mark(now, |marks| marks.nudged(at_s, ms / 1000.0)),
            SongWish::Semitones(semitones) => {
                let semitones = semitones.clamp(-MOST_SEMITONES, MOST_SEMITONES);
                self.mark(now, |marks| Ok(Marks { semitones, ..marks.clone() }));
            }
        }
    }

    /// A file for the lesson on the stand. The page of the recording opens, to mark it.
    fn open_song(&mut self, path: PathBuf, now: Moment) {
        if self.session.stage().is_none() {
            return;
        }
        self.stop_song();
        let path = std::path::absolute(&path).unwrap_or(path);
        self.songs.worker.stop();
        self.songs.kept = Some(Kept { path, marks: None });
        (self.songs.loaded, self.songs.trouble) = (None, None);
        self.songs.ready.clear();
        self.songs.desk.cursor_s = 0.0;
        self.song_changed(now);
        if self.page != Some(Page::Song) {
            self.show_page(Some(Page::Song), now);
        }
    }

    fn forget_song(&mut self, now: Moment) {
        self.stop_song();
        self.songs.worker.stop();
        (self.songs.kept, self.songs.loaded, self.songs.trouble) = (None, None, None);
        self.songs.ready.clear();
        self.song_changed(now);
    }

    /// Changes the marks, or says why not.
    fn mark(&mut self, now: Moment, change: impl FnOnce(&Marks) -> Result<Marks, MapError>) {
        let Some(marks) = self.songs.marks() else { return };
        match change(marks) {
            Ok(changed) => {
                self.songs.trouble = None;
                if let Some(kept) = &mut self.songs.kept {
                    kept.marks = Some(changed);
                }
                self.song_changed(now);
                // The clicks move with the beats.
                if self.song_plays() && self.songs.desk.clicks {
                    self.play_from(self.song_at_s());
                }
            }
            Err(error) => self.songs.trouble = Some(crate::song::note(&error.to_string())),
        }
    }

    /// A press of the key on a beat: by the recording's own time while it plays, else by the output's clock.
    fn tap(&mut self, at_s: f64) {
        let rate = f64::from(self.session.sound().rate.max(1));
        let clock_s = self.sound.frame_now().unwrap_or(0.0) / rate;
        self.songs.desk.taps.press(if self.song_plays() { at_s } else { clock_s });
    }

    pub(super) fn song_plays(&self) -> bool {
        self.songs.desk.preview.is_some()
    }

    /// Where the recording is, in seconds: what sounds now, or the cursor.
    pub(super) fn song_at_s(&self) -> f64 {
        let desk = &self.songs.desk;
        let Some(Preview { from_s, started: Some(started), .. }) = desk.preview else { return desk.cursor_s };
        let rate = f64::from(self.session.sound().rate.max(1));
        #[expect(clippy::cast_precision_loss, reason = "2^53 frames are six thousand years")]
        let played_s = (self.sound.frame_now().unwrap_or(0.0) - started as f64) / rate;
        from_s + played_s.max(0.0)
    }

    fn move_to(&mut self, to_s: f64) {
        let length_s = self.songs.loaded.as_ref().map_or(0.0, |loaded| loaded.seconds());
        let to_s = to_s.clamp(0.0, length_s);
        self.songs.desk.cursor_s = to_s;
        if self.song_plays() {
            self.play_from(to_s);
        }
    }

    fn play_song(&mut self, at_s: f64) {
        if self.song_plays() {
            self.stop_song();
        } else {
            self.play_from(at_s);
        }
    }

    fn play_from(&mut self, from_s: f64) {
        let rate = self.session.sound().rate;
        let Some(loaded) = self.songs.loaded.clone().filter(|_| rate > 0) else { return };
        let map = self.songs.marks().and_then(|marks| marks.map().ok()).filter(|_| self.songs.desk.clicks);
        let bars = self.bar_beats();
        let is_bar = |beat: i32| bars.binary_search(&beat).is_ok();
        let clicks = map.as_ref().map(|map| (map, &is_bar as &dyn Fn(i32) -> bool));
        let samples = preview(&loaded, from_s, rate, clicks);
        if samples.is_empty() {
            return;
        }
        let desk = &mut self.songs.desk;
        desk.previews += 1;
        let id = PREVIEW_IDS - desk.previews;
        desk.preview = Some(Preview { id, from_s, started: None });
        desk.cursor_s = from_s;
        self.send(Command::Play(Box::new(Prepared::recording(id, rate, samples))));
    }

    /// Falls silent; the cursor stays where it was heard last.
    pub(in crate::studio) fn stop_song(&mut self) {
        if self.song_plays() {
            self.songs.desk.cursor_s = self.song_at_s();
            self.songs.desk.preview = None;
            self.send(Command::Stop);
        }
    }

    /// What the performer says of the recording.
    pub(in crate::studio) fn song_report(&mut self, report: &Report) {
        let Some(preview) = &mut self.songs.desk.preview else { return };
        match report {
            Report::Started { id, frame, .. } if *id == preview.id => preview.started = Some(frame.0),
            Report::Finished { id, .. } | Report::Refused { id } if *id == preview.id => {
                self.songs.desk.cursor_s = self.song_at_s();
                self.songs.desk.preview = None;
            }
            _ => {}
        }
    }
}

fn no_tempo() -> Note {
    Note { text: "that is no tempo".to_owned(), hint: "a number from 10 to 400 beats a minute".to_owned() }
}

//! What the page of the learner's own recording shows.

use super::wishes::ZOOM_S;
use super::{Studio, Work};
use crate::pages::{BeatMark, FoundBeats, RungSong, SongPage, SongState, TappedBeats};
use crate::session::bpm;
use crate::stand::Note;

/// Found beats are offered as worth taking above this strength: a hum has less, drums have several times as much.
const WORTH_TAKING: f32 = 1.0;

impl Studio {
    /// The page as it is now.
    #[must_use]
    pub fn song_page(&self) -> SongPage {
        let at_s = self.song_at_s();
        let rungs = self.song_rungs();
        let songs = &self.songs;
        let share = songs.worker.share();
        let state = match (&songs.kept, &songs.loaded, &songs.work) {
            (None, ..) => SongState::Nothing,
            (_, None, Some(Work::Read(_))) => SongState::Reading(share),
            (_, None, _) => SongState::Unread,
            (_, Some(_), _) => SongState::Read,
        };
        let marks = songs.marks();
        let map = marks.and_then(|marks| marks.map().ok());
        let loaded = songs.loaded.as_ref();
        let length_s = loaded.map_or(0.0, |loaded| loaded.seconds());
        let zoom_s = songs.desk.zoom_s.clamp(ZOOM_S.0, ZOOM_S.1);
        let from_s = (at_s - zoom_s / 2.0).min(length_s - zoom_s).max(0.0);
        let window = (from_s, from_s + zoom_s);
        let bars = self.bar_beats();
        let beats = map.iter().flat_map(|map| beats(map, window, length_s, &bars)).collect();
        SongPage {
            has_lesson: self.session.stage().is_some(),
            state,
            file: songs
                .kept
                .as_ref()
                .map(|kept| kept.path.file_name().unwrap_or(kept.path.as_os_str()).to_string_lossy().into_owned()),
            is_cut_off: loaded.is_some_and(|loaded| loaded.truncated),
            peaks: loaded.map(|loaded| loaded.peaks.clone()).unwrap_or_default(),
            length_s,
            window,
            at_s,
            start_s: marks.map(|marks| marks.start_s),
            beats,
            anchors: marks.map_or(0, |marks| marks.anchors.len()),
            bpm: marks.map(|marks| marks.tempo.bpm()),
            lesson_bpm: self.session.stage().map(|stage| bpm(stage.lesson.tempo)),
            found: loaded
                .and_then(|loaded| loaded.found.as_ref())
                .map(|found| FoundBeats { bpm: found.tempo.bpm(), is_clear: found.strength > WORTH_TAKING }),
            presses: songs.desk.taps.count(),
            tapped: songs
                .desk
                .taps
                .tapped()
                .map(|tapped| TappedBeats { bpm: tapped.tempo.bpm(), spread_ms: tapped.spread_ms }),
            semitones: marks.map_or(0, |marks| marks.semitones),
            volume_db: self.session.settings().volumes.song_db,
            has_clicks: songs.desk.clicks,
            is_playing: self.song_plays(),
            rungs,
            can_retry: !songs.refused.is_empty(),
            trouble: songs.trouble.clone().or_else(|| self.song_misplaced()),
        }
    }

    /// The rungs the recording is wanted at, and whether it is ready there.
    fn song_rungs(&self) -> Vec<RungSong> {
        if self.songs.marks().is_none() || self.songs.loaded.is_none() {
            return Vec::new();
        }
        let share = self.songs.worker.share();
        let mut rungs = Vec::new();
        for tempo in self.wanted_tempi() {
            let Some(passage) = self.passage(tempo) else { continue };
            let is_now = matches!(&self.songs.work, Some(Work::Slow(now, _)) if *now == passage);
            let is_ready = self.songs.ready(&passage).is_some();
            rungs.push(RungSong { bpm: bpm(tempo), share: is_now.then_some(share), is_ready });
        }
        rungs
    }

    /// Whether what is on the stand lies in the recorded piece; a note when it does not.
    fn song_misplaced(&self) -> Option<Note> {
        let placed = self.songs.placed.as_ref().filter(|placed| placed.from.is_none())?;
        (!placed.bars.is_empty()).then(|| Note {
            text: crate::text::song::NOT_IN_PIECE.to_owned(),
            hint: crate::text::song::NOT_IN_PIECE_HINT.to_owned(),
        })
    }

    /// The beats on which bars of the piece begin, from bar 1, in order; where no lesson is open, every fourth of some.
    pub(super) fn bar_beats(&self) -> Vec<i32> {
        let beat = self.session.stage().map_or(1, |stage| stage.lesson.beat.ticks().0.max(1));
        let bars = self.songs.placed.as_ref().map_or(&[][..], |placed| &placed.bars);
        bars.iter()
            .filter(|bar| bar.0.is_multiple_of(beat))
            .filter_map(|bar| i32::try_from(bar.0 / beat).ok())
            .collect()
    }
}

/// The beats to be drawn in a window.
#[expect(clippy::cast_possible_truncation, reason = "beats of a recording")]
fn beats(map: &sixrung_song::BeatMap, (from_s, to_s): (f64, f64), length_s: f64, bars: &[i32]) -> Vec<BeatMark> {
    let first = map.beat_at(from_s.max(0.0)).ceil() as i32;
    let last = map.beat_at(to_s.min(length_s)).floor() as i32;
    let mark = |beat: i32| BeatMark {
        at_s: map.at(f64::from(beat)),
        bar: bars.binary_search(&beat).ok().and_then(|bar| u32::try_from(bar + 1).ok()),
        is_anchor: map.knots().iter().any(|knot| knot.beat == beat),
        is_before: beat < 0,
    };
    (first..=last).map(mark).collect()
}

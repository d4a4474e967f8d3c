//! What a session wants done, done: on the performer, the ear and the journal.

use sixrung_audio::{Command, Decibels, Instrument, Kit, Part as Sounding, Prepared};
use sixrung_journal::Measured;
use sixrung_practice::Moment;
use sixrung_timeline::Timeline;

use super::Studio;
use super::desk::Told;
use crate::session::{Effect, Input};
use crate::stand::{Part, Volumes};

impl Studio {
    pub(super) fn carry_out(&mut self, effects: Vec<Effect>, now: Moment) {
        for effect in effects {
            match effect {
                Effect::Play(timeline) => self.play(*timeline, Command::Play),
                Effect::PlayNext(timeline) => self.play(*timeline, Command::PlayNext),
                Effect::PlayRecording(id, sound) => {
                    let rate = self.session.sound().rate;
                    self.send(Command::Play(Box::new(Prepared::recording(id, rate, sound))));
                }
                Effect::Silence => self.send(Command::Stop),
                Effect::Gain(part, db) => self.send(gain(part, db)),
                Effect::Listen(order) => {
                    let rate = self.session.sound().rate;
                    self.tell(Told::Listen(order, rate));
                }
                Effect::OnlyWeSound { from_s, to_s } => {
                    let rate = self.session.sound().rate;
                    self.tell(Told::OnlyWeSound { from_s, to_s, rate });
                }
                Effect::Forget => self.tell(Told::Forget),
                Effect::FindClimb(key) => {
                    let found = self.keeper.climb(&key, &self.title());
                    self.take(Input::ClimbFound(key, found), now);
                }
                Effect::FindSteps(key) => {
                    let found = self.keeper.steps(&key, &self.title());
                    self.take(Input::StepsFound(key, found), now);
                }
                Effect::KeepStep(key, step, done, at) => self.keeper.set_step(&key, &self.title(), (step, done, at)),
                Effect::PlanToday(minutes) => self.plan_today(minutes, now),
                Effect::KeepFelt(felt, at) => self.keeper.record_felt(felt, at),
                Effect::Record(done) => self.keeper.record(&done, self.sound_in_words()),
                Effect::KeepClimb(key, state) => self.keeper.set_climb(&key, &self.title(), state),
                Effect::KeepRoundTrip(found) => self.keep_found(found, Measured::FromPass, now),
                Effect::MoveRoundTrip(by_ms) => self.move_trip(by_ms, now),
                Effect::KeepLearned(learned) => self.keep_learned(&learned, now),
                Effect::KeepOffered => self.keeper.set("chords.offered", "yes"),
                Effect::Window(intent) => self.window(intent, now),
            }
        }
    }

    pub(super) fn play(&mut self, timeline: Timeline, how: fn(Box<Prepared>) -> Command) {
        let tuning = self.session.stage().map(|stage| stage.lesson.tuning.clone());
        let guitar = tuning.and_then(|tuning| Instrument::new(tuning.open())).unwrap_or_else(Instrument::guitar);
        let settings = self.session.settings();
        let kit = Kit { guitar: guitar.strung(settings.strings), click: settings.click.sound };
        let song = self.song_for(&timeline);
        let prepared = Prepared::levelled(timeline, &kit);
        self.send(how(Box::new(match song {
            Some(song) => prepared.with_song(song),
            None => prepared,
        })));
    }

    pub(super) fn send(&mut self, command: Command) {
        self.unsent.push(command);
        self.send_unsent();
    }

    /// Commands that found no room wait here, in order, for the next frame.
    pub(super) fn send_unsent(&mut self) {
        let Some((controls, _)) = &mut self.controls else { return self.unsent.clear() };
        let mut waiting = std::mem::take(&mut self.unsent).into_iter();
        while let Some(command) = waiting.next() {
            if let Err(back) = controls.send(command) {
                self.unsent.push(back);
                self.unsent.extend(waiting);
                return;
            }
        }
    }
}

fn gain(part: Part, db: f32) -> Command {
    let db = if db <= Volumes::SILENT_DB { Decibels::SILENCE } else { Decibels(db) };
    match part {
        Part::Click => Command::Gain(Sounding::Click, db),
        Part::Guitar => Command::Gain(Sounding::Guitar, db),
        Part::Song => Command::Gain(Sounding::Song, db),
        Part::Bass => Command::Gain(Sounding::Bass, db),
        Part::Brushes => Command::Gain(Sounding::Brushes, db),
        Part::Master => Command::Master(db),
    }
}

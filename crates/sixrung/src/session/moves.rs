//! What the player can do, and what follows from it.

use sixrung_lesson::Tempo;
use sixrung_practice::today::TodayInput;
use sixrung_practice::{Felt, Input as ClimbInput, Move, Step};

use super::input::{ClimbKey, Effect, Now};
use super::run::{Purpose, Run};
use super::{Doing, Session};
use crate::stand::{Intent, Page, Pause, SongWish};

impl Session {
    pub(super) fn wish(&mut self, intent: Intent, now: Now, effects: &mut Vec<Effect>) {
        let Some(intent) = self.path_wish(intent, now, effects) else { return };
        self.today.left |= matches!(
            intent,
            Intent::ChooseSection(_) | Intent::ChooseBars(_) | Intent::AllBars | Intent::ChooseArrangement(_)
        );
        match intent {
            Intent::Forward => self.forward(now, effects),
            Intent::Back => self.back(now, effects),
            Intent::Stop => self.stop(effects),
            Intent::Slower => self.move_to(Move::Slower, now, effects),
            Intent::Faster => self.move_to(Move::Faster, now, effects),
            Intent::ChooseRung(index) => {
                if let Some(rung) = self.rung(index) {
                    self.move_to(Move::To(rung), now, effects);
                }
            }
            Intent::ChooseSection(section) => self.set_stage(Some(section), None, None, effects),
            Intent::ChooseBars(bars) => self.set_stage(None, Some(bars), None, effects),
            Intent::AllBars => self.set_stage(None, None, None, effects),
            Intent::ChooseArrangement(index) => {
                let bars = self.stage.as_ref().and_then(|stage| stage.bars.clone());
                self.set_stage(None, bars, Some(index), effects);
            }
            Intent::HearAgain(wish) => self.hear_again(wish, now, effects),
            change @ (Intent::SetVolume(..) | Intent::Mute(_) | Intent::HearOnly(_)) => {
                self.set_volumes(change, effects);
            }
            change @ (Intent::SetClick(_) | Intent::SetStrings(_)) => self.set_kit(change, effects),
            Intent::HearFirst(hears_first) => {
                self.settings.heard_on_request = !hears_first;
                self.drop_coming_listen(effects);
                effects.push(Effect::Window(Intent::HearFirst(hears_first)));
            }
            Intent::MarkClean => self.mark(sixrung_listen::Verdict::Clean, now, effects),
            Intent::MarkNotClean => self.mark(sixrung_listen::Verdict::NotClean, now, effects),
            Intent::TakeProposal => self.take_proposal(now, effects),
            Intent::DismissNote(index) => {
                if index < self.notes.len() {
                    self.notes.remove(index);
                }
            }
            Intent::SetLook(look) => {
                self.settings.look = look;
                effects.push(Effect::Window(Intent::SetLook(look)));
            }
            Intent::SetLevel(level) => {
                self.settings.level = Some(level);
                effects.push(Effect::Window(Intent::SetLevel(level)));
            }
            Intent::SetStrokesStart(wanted) => {
                self.settings.strokes_start = wanted;
                effects.push(Effect::Window(Intent::SetStrokesStart(wanted)));
            }
            Intent::Quit => {
                self.stop(effects);
                effects.push(Effect::Window(Intent::Quit));
            }
            // Strings are tuned, chords heard and a recording marked in quiet.
            Intent::OpenPage(page @ (Page::Tuner | Page::Chords | Page::Song)) => {
                self.stop(effects);
                match page {
                    Page::Tuner => self.tuned = sixrung_listen::Sounding::Nothing,
                    Page::Chords => self.learning = None,
                    _ => {}
                }
                effects.push(Effect::Window(Intent::OpenPage(page)));
            }
            Intent::Song(wish) => {
                if let SongWish::Open(_) = wish {
                    self.stop(effects);
                }
                effects.push(Effect::Window(Intent::Song(wish)));
            }
            // Measuring needs the speakers.
            measure @ (Intent::Measure(_) | Intent::OpenPage(Page::Calibrate)) => {
                self.stop(effects);
                effects.push(Effect::Window(measure));
            }
            // What is left only the window can do.
            window => effects.push(Effect::Window(window)),
        }
    }

    /// Starts, the part first where that is due; goes on, with what is proposed if something is; while playing ends the
    /// pass, not judged; while the part is played first, goes on to the player's own pass; in the rest between passes goes
    /// on at once; where the player is to mark a pass, marks it clean.
    fn forward(&mut self, now: Now, effects: &mut Vec<Effect>) {
        if self.asks_hands() {
            return self.feel(Felt::Fine, now, effects);
        }
        if self.is_stopped(now) {
            // Only a deliberate word goes on after pain.
            return self.show_stopped(now, effects);
        }
        match self.doing {
            Doing::Paused(Pause::Break) => self.today_update(TodayInput::Skip, now, effects),
            Doing::Playing if self.is_resting(now) => self.start(self.next_purpose(now), effects),
            Doing::Playing if self.listens_before() => self.start(Purpose::Practise, effects),
            Doing::Playing => self.stop(effects),
            Doing::Marking { .. } => self.mark(sixrung_listen::Verdict::Clean, now, effects),
            // An item that lies on a page of its own goes on there.
            Doing::Idle | Doing::Paused(_) if self.today_page_item() => self.put_item_on_stand(now, effects),
            Doing::Idle | Doing::Paused(_) => {
                let leaves_stand = self.proposes_page();
                self.take_proposal(now, effects);
                if effects.iter().any(|effect| matches!(effect, Effect::FindClimb(_))) {
                    // Other bars are on the stand: at which tempo, the journal has still to say.
                    self.starts_when_found = !leaves_stand;
                } else if !leaves_stand {
                    self.start(self.next_purpose(now), effects);
                }
            }
        }
    }

    /// Plays the part first; where the player is to mark a pass, marks it not clean.
    fn back(&mut self, now: Now, effects: &mut Vec<Effect>) {
        if self.asks_hands() {
            return self.feel(Felt::Pain, now, effects);
        }
        match self.doing {
            Doing::Marking { .. } => self.mark(sixrung_listen::Verdict::NotClean, now, effects),
            _ => self.start(Purpose::Listen, effects),
        }
    }

    /// Whether the part is being played before the player's passes begin by themselves.
    fn listens_before(&self) -> bool {
        self.run.as_ref().is_some_and(|run| run.purpose == Purpose::ListenThenPractise)
    }

    /// A pass, or the part played first where the climb's rules ask for it. A teacher's rules hold; else the player may
    /// want none of it.
    pub(super) fn next_purpose(&self, now: Now) -> Purpose {
        let is_fixed = self.stage.as_ref().is_some_and(|stage| stage.assigned.is_some());
        let is_climb = self.stage.as_ref().is_some_and(|stage| stage.step == Step::Climb) && !self.runs_at_tempo();
        let is_due = self.climb.as_ref().is_some_and(|climb| climb.hear_first(now.moment));
        if is_climb && is_due && (is_fixed || !self.settings.heard_on_request) {
            Purpose::ListenThenPractise
        } else {
            Purpose::Practise
        }
    }

    /// Whether the running pass is over and the next one not yet counted in.
    pub(super) fn is_resting(&self, now: Now) -> bool {
        let cursor = self.run.as_ref().and_then(|run| run.cursor(now.frame));
        matches!(cursor, Some(sixrung_timeline::Cursor::Rest { .. } | sixrung_timeline::Cursor::Finished))
    }

    /// Starts anew: the ear forgets what it was to hear.
    pub(super) fn start(&mut self, purpose: Purpose, effects: &mut Vec<Effect>) {
        effects.push(Effect::Forget);
        self.waiting.clear();
        self.go_on_with(purpose, effects);
    }

    /// Starts; what the ear was to hear until now it goes on hearing.
    pub(super) fn go_on_with(&mut self, purpose: Purpose, effects: &mut Vec<Effect>) {
        let (Some(stage), Some(climb)) = (&self.stage, &self.climb) else { return };
        if self.sound.rate == 0 {
            return;
        }
        self.ids += 1;
        let Some(run) = Run::new(stage, climb.at(), self.sound.rate, (self.ids, purpose), self.settings.click.clicks)
        else {
            return;
        };
        effects.push(Effect::Play(Box::new(run.plan.timeline.clone())));
        self.run = Some(run);
        self.next = None;
        self.doing = Doing::Playing;
        self.last = None;
        self.end_again();
    }

    /// Ends whatever plays; the running pass is not judged.
    pub(super) fn stop(&mut self, effects: &mut Vec<Effect>) {
        if self.end_again() {
            effects.push(Effect::Silence);
        }
        if self.doing == Doing::Playing {
            let listened = self.run.as_ref().is_some_and(|run| run.purpose.listens());
            self.halt(if listened { Doing::Idle } else { Doing::Paused(Pause::Asked) }, effects);
        }
    }

    pub(super) fn halt(&mut self, then: Doing, effects: &mut Vec<Effect>) {
        effects.extend([Effect::Silence, Effect::Forget]);
        self.waiting.clear();
        self.run = None;
        self.next = None;
        self.end_again();
        self.doing = then;
    }

    fn rung(&self, index: usize) -> Option<Tempo> {
        self.climb.as_ref()?.ladder().rungs().get(index).copied()
    }

    fn move_to(&mut self, to: Move, now: Now, effects: &mut Vec<Effect>) {
        let Some(climb) = &mut self.climb else { return };
        let before = climb.at();
        climb.update(ClimbInput::Move(to), now.moment);
        if climb.at() == before {
            return;
        }
        self.keep_climb(effects);
        match self.run.as_ref().map(|run| run.purpose) {
            Some(Purpose::Listen) if self.doing == Doing::Playing => self.start(Purpose::Listen, effects),
            Some(_) if self.doing == Doing::Playing => self.start(self.next_purpose(now), effects),
            _ => self.last = None,
        }
    }

    fn keep_climb(&self, effects: &mut Vec<Effect>) {
        let is_climb = self.stage.as_ref().is_some_and(|stage| stage.step == Step::Climb);
        if let (Some(key), Some(climb), true) = (self.key(), &self.climb, is_climb) {
            effects.push(Effect::KeepClimb(key, climb.state().clone()));
        }
    }

    /// The climb now on the stand.
    #[must_use]
    pub fn key(&self) -> Option<ClimbKey> {
        let stage = self.stage.as_ref()?;
        let stretch = stage.stretch();
        Some(ClimbKey { lesson: stage.hash, stretch, arrangement: stage.arrangement.name.clone() })
    }

    /// What was to be played first is not wanted any more.
    fn drop_coming_listen(&mut self, effects: &mut Vec<Effect>) {
        let coming = self.next.as_ref().filter(|next| next.purpose == Purpose::ListenThenPractise);
        let is_fixed = self.stage.as_ref().is_some_and(|stage| stage.assigned.is_some());
        if let Some(tempo) = coming.map(|next| next.tempo).filter(|_| self.settings.heard_on_request && !is_fixed) {
            self.play_next(Purpose::Practise, tempo, effects);
        }
    }

    /// Some of what is heard is louder, softer, silent or alone now.
    fn set_volumes(&mut self, change: Intent, effects: &mut Vec<Effect>) {
        let volumes = &mut self.settings.volumes;
        match change {
            Intent::SetVolume(part, db) => volumes.set(part, db),
            Intent::Mute(part) => volumes.toggle_mute(part),
            Intent::HearOnly(part) => volumes.toggle_only(part),
            _ => return,
        }
        effects.extend(self.gains());
        effects.push(Effect::Window(change));
    }

    /// Click or strings are others now: while playing they are heard from the next pass on.
    fn set_kit(&mut self, change: Intent, effects: &mut Vec<Effect>) {
        match change {
            Intent::SetClick(choice) => self.settings.click = choice,
            Intent::SetStrings(strings) => self.settings.strings = strings,
            _ => return,
        }
        effects.push(Effect::Window(change));
        let practises = self.run.as_ref().is_some_and(|run| run.purpose == Purpose::Practise);
        if let (Doing::Playing, true, Some(coming)) = (&self.doing, practises, self.next.as_ref().or(self.run.as_ref()))
        {
            self.play_next(coming.purpose, coming.tempo, effects);
        }
    }

    /// Whether what is proposed lies on a page of its own.
    fn proposes_page(&self) -> bool {
        let proposal = self.last.as_ref().and_then(|last| last.proposal.as_ref());
        proposal.is_some_and(|proposal| {
            matches!(*proposal.intent, Intent::Changes(_) | Intent::ChooseStep(Step::Shapes | Step::Changes))
        })
    }

    fn take_proposal(&mut self, now: Now, effects: &mut Vec<Effect>) {
        let proposal = self.last.as_mut().and_then(|last| last.proposal.take());
        let Some(proposal) = proposal else { return };
        match *proposal.intent {
            // The half-rung that was proposed: the climb itself remembers which.
            Intent::TakeProposal => {
                if let Some(climb) = &mut self.climb {
                    climb.update(ClimbInput::TakeHalfRung, now.moment);
                    self.keep_climb(effects);
                }
            }
            intent => self.wish(intent, now, effects),
        }
    }
}

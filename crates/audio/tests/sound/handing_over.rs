//! What the two ends of the hand-over promise each other.

use sixrung_audio::{
    Command, Decibels, Part, Performer, Prepared, Render, RenderError, RenderOptions, Report, handover,
};
use sixrung_timeline::Frames;

use crate::hand_made::{busy_bar, clicks, timeline};
use crate::played::{Played, prepared};

const RATE: u32 = 48_000;

fn ids(reports: &[Report]) -> Vec<(&'static str, u64)> {
    reports
        .iter()
        .map(|report| match report {
            Report::Started { id, .. } => ("started", *id),
            Report::CycleStarted { cycle, .. } => ("cycle", *cycle),
            Report::Finished { id, .. } => ("finished", *id),
            Report::Stopped { .. } => ("stopped", 0),
            Report::Refused { id } => ("refused", *id),
            Report::Lost { count } => ("lost", u64::from(*count)),
        })
        .collect()
}

#[test]
fn a_timeline_reports_its_start_its_cycles_and_its_end() {
    let mut played = Played::new(RATE);
    let mut bar = timeline(7, RATE, 240_000, clicks());
    bar.passes = Some(2);
    played.play(bar);
    played.run(3 * RATE as usize, 480);
    assert_eq!(ids(&played.reports), [("started", 7), ("cycle", 0), ("cycle", 1), ("finished", 7)]);
    let start = played.started(7) as u64;
    assert_eq!(played.reports.last(), Some(&Report::Finished { id: 7, frame: Frames(start + 2 * u64::from(RATE)) }));
}

#[test]
fn playing_while_it_closes_waits_until_it_has_closed() {
    let mut played = Played::new(RATE);
    played.play(timeline(1, RATE, 120_000, clicks()));
    played.run(RATE as usize, 480);
    played.send(Command::Stop);
    played.play(timeline(2, RATE, 120_000, clicks()));
    played.run(RATE as usize, 480);
    assert_eq!(ids(&played.reports), [("started", 1), ("cycle", 0), ("stopped", 0), ("started", 2), ("cycle", 0)]);
}

#[test]
fn a_timeline_for_another_rate_is_refused_and_comes_home() {
    let mut played = Played::new(RATE);
    played.play(timeline(3, 44_100, 120_000, clicks()));
    played.run(4800, 480);
    assert_eq!(ids(&played.reports), [("refused", 3)]);
    assert_eq!(played.controls.timelines_out(), 0);
    assert!(played.sound.iter().all(|sample| *sample == 0.0));
}

#[test]
fn a_second_next_takes_the_place_of_the_first() {
    let mut played = Played::new(RATE);
    played.play(timeline(1, RATE, 240_000, clicks()));
    played.send(Command::PlayNext(prepared(timeline(2, RATE, 240_000, clicks()))));
    played.send(Command::PlayNext(prepared(timeline(3, RATE, 240_000, clicks()))));
    played.run(2 * RATE as usize, 480);
    let started: Vec<_> = ids(&played.reports).into_iter().filter(|(what, _)| *what == "started").collect();
    assert_eq!(started, [("started", 1), ("started", 3)]);
    assert_eq!(played.controls.timelines_out(), 1, "only the one that plays is still out");
}

#[test]
fn at_most_eight_timelines_are_out_and_the_ninth_comes_back() {
    let (mut controls, _end) = handover::pair(64);
    for id in 0..8 {
        controls.send(Command::Play(prepared(timeline(id, RATE, 120_000, Vec::new())))).expect("room for eight");
    }
    let ninth = controls.send(Command::Play(prepared(timeline(8, RATE, 120_000, Vec::new()))));
    assert!(matches!(ninth, Err(Command::Play(back)) if back.timeline().id == 8));
    controls.send(Command::Stop).expect("other commands still pass");
}

#[test]
fn a_full_queue_gives_the_command_back() {
    let (mut controls, _end) = handover::pair(8);
    let sent = (0..20).take_while(|_| controls.send(Command::Mute).is_ok()).count();
    assert_eq!(sent, 8);
}

#[test]
fn reports_nobody_reads_are_counted_never_waited_for() {
    let (mut controls, end) = handover::pair(8);
    let mut performer = Performer::new(RATE, end);
    controls.send(Command::Play(prepared(timeline(1, RATE, 240_000, clicks())))).expect("room");
    // Started and 20 cycles, into a queue of 8.
    performer.process(&mut vec![0.0; 2 * RATE as usize * 20]);
    let mut reports: Vec<Report> = std::iter::from_fn(|| controls.poll()).collect();
    assert_eq!(reports.len(), 8);
    performer.process(&mut [0.0; 2]);
    reports.extend(std::iter::from_fn(|| controls.poll()));
    assert_eq!(reports.last(), Some(&Report::Lost { count: 13 }));
}

#[test]
fn an_odd_sample_and_no_sample_at_all_are_taken_in_stride() {
    let (_controls, end) = handover::pair(8);
    let mut performer = Performer::new(RATE, end);
    performer.process(&mut []);
    let mut odd = [f32::NAN; 5];
    performer.process(&mut odd);
    assert_eq!(odd, [0.0; 5]);
    assert_eq!(performer.frames_out(), Frames(2));
}

#[test]
fn a_velocity_that_is_no_number_is_silence() {
    let mut played = Played::new(RATE);
    let mut events = busy_bar();
    for event in &mut events {
        if let sixrung_timeline::EventKind::Pluck { velocity, .. } = &mut event.kind {
            *velocity = f32::NAN;
        }
    }
    played.play(timeline(1, RATE, 120_000, events));
    played.run(RATE as usize, 480);
    assert!(played.sound.iter().all(|sample| sample.is_finite()));
}

#[test]
fn what_has_no_end_is_not_rendered() {
    let endless = Render::new(timeline(1, RATE, 120_000, clicks()), &RenderOptions::default());
    assert_eq!(endless.err(), Some(RenderError::Endless));
}

#[test]
fn a_recording_sounds_from_its_first_frame_on_comes_home_and_makes_room_for_what_follows() {
    let mut played = Played::new(RATE);
    let ramp: Vec<f32> = (0_u16..9_600).map(|n| 0.5 - f32::from(n) / 19_200.0).collect();
    played.send(Command::Gain(Part::Click, Decibels::SILENCE));
    played.send(Command::Play(Box::new(Prepared::recording(5, RATE, ramp.clone()))));
    played.run(RATE as usize, 480);
    assert_eq!(ids(&played.reports), [("started", 5), ("cycle", 0), ("finished", 5)]);
    let start = played.started(5);
    for (frame, sample) in ramp.iter().enumerate() {
        assert_eq!(played.sound[2 * (start + frame)..][..2], [*sample; 2], "frame {frame}");
    }
    assert!(played.sound[2 * (start + ramp.len())..].iter().all(|sample| *sample == 0.0));
    assert_eq!(played.controls.timelines_out(), 0, "it came home");

    // What is played over it silences it within 30 ms.
    played.send(Command::Play(Box::new(Prepared::recording(6, RATE, vec![0.5; 96_000]))));
    played.run(9_600, 480);
    played.play(timeline(7, RATE, 120_000, Vec::new()));
    let cut = played.sound.len();
    played.run(9_600, 480);
    assert!(played.sound[cut + 2 * 3_000..].iter().all(|sample| sample.abs() < 1e-5));
}

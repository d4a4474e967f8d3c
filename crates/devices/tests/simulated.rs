//! The app's side of sound, on simulated devices.

use sixrung_devices::{Event, InputReader, Port, SimulatedConfig, Simulation, Sound, Source, Which, Why};

/// One full-scale sample every `every` frames.
struct Clicks {
    frame: u64,
    every: u64,
}

impl Source for Clicks {
    fn process(&mut self, block: &mut [f32]) {
        for pair in block.chunks_mut(2) {
            if self.frame.is_multiple_of(self.every) {
                pair.fill(1.0);
            }
            self.frame += 1;
        }
    }
}

fn clicks(every: u64) -> Box<Clicks> {
    Box::new(Clicks { frame: 0, every })
}

/// The microphone hears the left speaker.
fn echo(_first: u64, speakers: &[f32], microphone: &mut [f32]) {
    for (heard, pair) in microphone.iter_mut().zip(speakers.chunks(2)) {
        *heard += pair[0];
    }
}

/// Everything there is to read: where clicks were heard on the source's frames, and the gaps.
fn listen(reader: &mut InputReader) -> (Vec<f64>, Vec<u64>) {
    let (mut block, mut heard, mut gaps) = ([0.0; 300], Vec::new(), Vec::new());
    while let Some(chunk) = reader.read(&mut block) {
        gaps.extend(chunk.gap.map(|gap| gap.at));
        let samples = &block[..chunk.frames];
        let places = samples.iter().enumerate().filter(|(_, sample)| **sample > 0.5);
        #[expect(clippy::cast_precision_loss, reason = "a place in a block")]
        heard.extend(places.filter_map(|(place, _)| Some(chunk.output_frame? + place as f64)));
    }
    (heard, gaps)
}

fn open(config: SimulatedConfig) -> (Sound, Simulation, InputReader) {
    let (mut sound, mut simulation) = Sound::simulated(config);
    let reader = sound.take_reader().expect("the first to ask");
    assert!(sound.take_reader().is_none(), "there is one");
    simulation.enter(echo);
    (sound, simulation, reader)
}

fn events(sound: &Sound) -> Vec<Event> {
    std::iter::from_fn(|| sound.next_event()).collect()
}

#[test]
fn what_is_played_is_heard_in_its_place() {
    for (rate, buffer, round_trip) in [(48_000, 512, 0), (44_100, 1024, 441), (96_000, 64, 100)] {
        let (sound, mut simulation, mut reader) =
            open(SimulatedConfig { rate, buffer, round_trip, ..SimulatedConfig::default() });
        simulation.advance(u64::from(rate));
        sound.play(clicks(10_000));
        simulation.advance(3 * u64::from(rate));
        let (heard, gaps) = listen(&mut reader);
        assert_eq!(gaps, []);
        assert!(heard.len() > 10, "{heard:?}");
        for (count, heard) in (0_u32..).zip(heard) {
            let expected = f64::from(count * 10_000 + round_trip);
            assert!((heard - expected).abs() < 0.01, "{rate} {buffer}: click {count} at {heard}");
        }
    }
}

#[test]
fn the_cursor_is_what_is_heard_now() {
    let (sound, mut simulation, _reader) = open(SimulatedConfig::default());
    assert_eq!(sound.frame_now(), None, "nothing is known yet");
    simulation.advance(512 * 10);
    sound.play(clicks(1000));
    simulation.advance(512 * 20);
    // Twenty blocks were rendered; the last of them is about to sound.
    let now = sound.frame_now().expect("known");
    assert!((now - 512.0 * 19.0).abs() < 0.01, "{now}");
}

#[test]
fn lost_input_is_a_gap_where_it_was_lost() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig::default());
    sound.play(clicks(10_000));
    simulation.advance(512 * 200);
    simulation.lose_input_blocks(3);
    simulation.advance(512 * 200);
    let (heard, gaps) = listen(&mut reader);
    assert_eq!(gaps, [512 * 200]);
    assert_eq!(reader.gaps(), 1);
    // All is in its place again, but for the four blocks it took to be sure of the gap.
    let last = heard.last().expect("heard");
    assert!((last / 10_000.0 - (last / 10_000.0).round()).abs() < 1e-4, "{last}");
    let late = reader.clock_map().output_frame_of_input(512 * 300).expect("known");
    assert!(
        (late - 512.0 * 302.0).abs() < 0.1,
        "3 blocks are missing and the first was heard before any sounded: {late}"
    );
}

#[test]
fn an_output_that_stands_still_is_told() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig::default());
    sound.play(clicks(10_000));
    simulation.advance(512 * 200);
    simulation.hold_output_blocks(2);
    simulation.advance(512 * 200);
    let gaps: Vec<_> = events(&sound).into_iter().filter(|it| matches!(it, Event::Gap(_))).collect();
    let [Event::Gap(gap)] = gaps[..] else { panic!("{gaps:?}") };
    assert_eq!(gap.at, 512 * 200);
    assert!(gap.missing_ms.is_some_and(|ms| (ms - 2.0 * 512.0 / 48.0).abs() < 0.5), "{gap:?}");
    assert_eq!(sound.status().gaps, 1);
    assert_eq!(listen(&mut reader).1, [], "the microphone missed nothing");
}

#[test]
fn a_device_pulled_out_and_back_goes_on_where_it_was() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig::default());
    sound.play(clicks(10_000));
    simulation.advance(48_000);
    assert_eq!(events(&sound).len(), 2, "both were opened");
    listen(&mut reader);
    simulation.pull_out(Which::Output);
    assert_eq!(events(&sound), [Event::Lost { which: Which::Output, why: Why::Gone }]);
    assert!(matches!(sound.status().output, Port::Missing(Why::Gone)));
    assert_eq!(sound.frame_now(), None, "no output, no cursor");
    simulation.advance(48_000);
    assert_eq!(listen(&mut reader).0, [], "silence");
    simulation.bring_back(Which::Output, 48_000);
    simulation.advance(48_000);
    let now = sound.frame_now().expect("known");
    assert!((90_000.0..97_000.0).contains(&now), "the second in between did not count: {now}");
    let (heard, _) = listen(&mut reader);
    assert!(heard.iter().all(|it| (it / 10_000.0 - (it / 10_000.0).round()).abs() < 1e-4), "{heard:?}");
    assert!(heard.len() >= 3, "{heard:?}");
}

#[test]
fn at_another_rate_silence_waits_for_a_new_source() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig::default());
    sound.play(clicks(1000));
    simulation.advance(48_000);
    simulation.pull_out(Which::Output);
    simulation.pull_out(Which::Input);
    simulation.advance(48_000);
    listen(&mut reader);
    events(&sound);
    simulation.bring_back(Which::Output, 44_100);
    simulation.bring_back(Which::Input, 44_100);
    let rates: Vec<_> = events(&sound)
        .iter()
        .filter_map(|it| if let Event::Opened { opened, .. } = it { Some(opened.rate) } else { None })
        .collect();
    assert_eq!(rates, [44_100, 44_100]);
    simulation.advance(44_100);
    assert_eq!(listen(&mut reader).0, []);
    sound.play(clicks(1000));
    simulation.advance(44_100);
    let (heard, _) = listen(&mut reader);
    assert!(heard.len() > 40 && (heard[0] - 0.0).abs() < 0.01, "{heard:?}");
}

#[test]
fn without_a_microphone_there_is_nothing_to_read() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig { microphone: false, ..SimulatedConfig::default() });
    sound.play(clicks(1000));
    simulation.advance(48_000);
    assert_eq!(sound.status().input, Port::Off);
    assert_eq!(reader.read(&mut [0.0; 64]), None);
}

#[test]
fn what_goes_out_is_handed_to_the_listener_by_its_frame() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig::default());
    sound.play(clicks(1_000));
    simulation.advance(48_000);
    let (mut block, mut next) = ([0.0; 300], 0);
    while let Some(chunk) = reader.read_played(&mut block) {
        assert_eq!((chunk.output_frame, chunk.rate), (next, 48_000));
        for (frame, sample) in (next..).zip(&block[..chunk.frames]) {
            assert!((*sample > 0.5) == frame.is_multiple_of(1_000), "frame {frame}");
        }
        next += chunk.frames as u64;
    }
    assert!(next > 47_000, "{next}");
}

#[test]
fn what_goes_out_and_finds_no_room_is_missing_and_the_rest_keeps_its_place() {
    let (sound, mut simulation, mut reader) = open(SimulatedConfig::default());
    sound.play(clicks(1_000));
    // Eleven seconds fit; nobody fetches anything for twelve.
    simulation.advance(12 * 48_000);
    let (mut block, mut ends) = ([0.0; 1024], 0);
    while let Some(chunk) = reader.read_played(&mut block) {
        ends = chunk.output_frame + chunk.frames as u64;
    }
    assert!(ends < 11 * 48_000, "{ends}");
    simulation.advance(48_000);
    let chunk = reader.read_played(&mut block).expect("room again");
    assert!(chunk.output_frame > ends, "{chunk:?}");
    for (frame, sample) in (chunk.output_frame..).zip(&block[..chunk.frames]) {
        assert!((*sample > 0.5) == frame.is_multiple_of(1_000), "frame {frame}");
    }
}

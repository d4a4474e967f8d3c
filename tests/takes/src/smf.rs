//! Standard MIDI File 1.0, format 0: as much of it as a take needs.

/// Microseconds a tick lasts: 480 ticks in a quarter of 120,000 µs.
pub const TICK_US: u32 = 250;

const TICKS_PER_QUARTER: u16 = 480;
const US_PER_QUARTER: u32 = TICK_US * TICKS_PER_QUARTER as u32;
/// Channels that play an instrument.
pub const VOICES: usize = 15;

/// General MIDI keeps channel 10 for percussion.
const PERCUSSION_CHANNEL: u8 = 9;

/// What a channel is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Message {
    /// Choose an instrument, its program number counted from 0.
    Program(u8),
    /// A key goes down at a velocity, 1 to 127.
    NoteOn(u8, u8),
    /// A key goes up.
    NoteOff(u8),
    /// Controller 11, 0 to 127: how much of the channel is heard.
    Expression(u8),
    /// A controller and its value, 0 to 127.
    Controller(u8, u8),
    /// Controller 120: whatever sounds ends.
    AllSoundOff,
}

/// Events in any order; ties are written in the order they came.
#[derive(Clone, Debug, Default)]
pub struct Smf {
    events: Vec<(u32, [u8; 3], usize)>,
}

impl Smf {
    /// Tells voice `voice` (a channel of its own, percussion left out; below [`VOICES`]) something at `at_ms`.
    pub fn tell(&mut self, at_ms: u32, voice: usize, message: Message) {
        assert!(voice < VOICES, "voice {voice} of {VOICES}");
        let voice = u8::try_from(voice).expect("it is below 15");
        let channel = if voice < PERCUSSION_CHANNEL { voice } else { voice + 1 };
        let (bytes, length) = match message {
            Message::Program(program) => ([0xc0 | channel, program, 0], 2),
            Message::NoteOn(key, velocity) => ([0x90 | channel, key, velocity], 3),
            Message::NoteOff(key) => ([0x80 | channel, key, 0], 3),
            Message::Expression(value) => ([0xb0 | channel, 11, value], 3),
            Message::Controller(number, value) => ([0xb0 | channel, number, value], 3),
            Message::AllSoundOff => ([0xb0 | channel, 120, 0], 3),
        };
        self.events.push((at_ms * 1000 / TICK_US, bytes, length));
    }

    /// Tunes a voice up or down by up to 100 cents: registered parameter 1 of MIDI 1.0, whose 14 bits span ± 100 cents.
    pub fn tune(&mut self, at_ms: u32, voice: usize, cents: f64) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 14 bits")]
        let value = (8192.0 + cents / 100.0 * 8192.0).round().clamp(0.0, 16383.0) as u16;
        let [low, high] = [value & 0x7f, value >> 7].map(|half| u8::try_from(half).unwrap_or(0));
        for (number, value) in [(101, 0), (100, 1), (6, high), (38, low)] {
            self.tell(at_ms, voice, Message::Controller(number, value));
        }
    }

    /// The file, its track ending at `end_ms` or with the last event.
    #[must_use]
    pub fn bytes(&self, end_ms: u32) -> Vec<u8> {
        let mut events = self.events.clone();
        events.sort_by_key(|event| event.0);
        let mut track = vec![0, 0xff, 0x51, 3];
        track.extend_from_slice(&US_PER_QUARTER.to_be_bytes()[1..]);
        let mut now = 0;
        for (tick, bytes, length) in &events {
            variable_length(tick - now, &mut track);
            track.extend_from_slice(&bytes[..*length]);
            now = *tick;
        }
        variable_length((end_ms * 1000 / TICK_US).saturating_sub(now), &mut track);
        track.extend_from_slice(&[0xff, 0x2f, 0]);

        let mut file = b"MThd\0\0\0\x06\0\0\0\x01".to_vec();
        file.extend_from_slice(&TICKS_PER_QUARTER.to_be_bytes());
        file.extend_from_slice(b"MTrk");
        file.extend_from_slice(&u32::try_from(track.len()).unwrap_or(u32::MAX).to_be_bytes());
        file.extend_from_slice(&track);
        file
    }
}

/// Seven bits a byte, the highest first, all but the last marked by their eighth bit.
fn variable_length(value: u32, into: &mut Vec<u8>) {
    for shift in [21, 14, 7] {
        if value >> shift > 0 {
            into.push(0x80 | u8::try_from((value >> shift) & 0x7f).unwrap_or(0));
        }
    }
    into.push(u8::try_from(value & 0x7f).unwrap_or(0));
}

#[cfg(test)]
mod tests {
    use super::{Message, Smf, variable_length};

    #[test]
    fn lengths_are_written_as_the_standard_shows_them() {
        // Standard MIDI Files 1.0, "Variable-length quantity", its own table of examples.
        let check = |value, expected: &[u8]| {
            let mut bytes = Vec::new();
            variable_length(value, &mut bytes);
            assert_eq!(bytes, expected, "{value:#x}");
        };
        check(0, &[0x00]);
        check(0x40, &[0x40]);
        check(0x7f, &[0x7f]);
        check(0x80, &[0x81, 0x00]);
        check(0x2000, &[0xc0, 0x00]);
        check(0x3fff, &[0xff, 0x7f]);
        check(0x4000, &[0x81, 0x80, 0x00]);
        check(0x1f_ffff, &[0xff, 0xff, 0x7f]);
        check(0x0fff_ffff, &[0xff, 0xff, 0xff, 0x7f]);
    }

    #[test]
    fn a_file_is_a_header_a_tempo_and_sorted_events() {
        let mut smf = Smf::default();
        smf.tell(2, 0, Message::NoteOff(40));
        smf.tell(1, 9, Message::NoteOn(64, 100));
        let bytes = smf.bytes(3);
        assert_eq!(&bytes[..14], b"MThd\0\0\0\x06\0\0\0\x01\x01\xe0");
        let track = [0, 0xff, 0x51, 3, 1, 0xd4, 0xc0, 4, 0x9a, 64, 100, 4, 0x80, 40, 0, 4, 0xff, 0x2f, 0];
        assert_eq!(&bytes[14..18], b"MTrk");
        assert_eq!(&bytes[18..22], &19_u32.to_be_bytes());
        assert_eq!(&bytes[22..], &track);
    }
}

//! Two synthesisers that play sound fonts, as libraries.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use oxisynth::{MidiEvent, Synth, SynthDescriptor};
use rustysynth::{SoundFont, Synthesizer, SynthesizerSettings};

use crate::cost::{BLOCK, Player};
use crate::score::{CHORD, RATE, Stroke};

/// General MIDI's steel guitar.
const STEEL: u8 = 25;

/// The sound font to play: the one asked for, else the smallest of Debian's that is there.
pub(crate) fn sound_font() -> Option<PathBuf> {
    let asked = std::env::var_os("SOUND_FONT").map(PathBuf::from);
    let debian = ["TimGM6mb.sf2", "default-GM.sf2", "FluidR3_GM.sf2"];
    let debian = debian.map(|name| Path::new("/usr/share/sounds/sf2").join(name));
    asked.into_iter().chain(debian).find(|path| path.exists())
}

/// rustysynth.
pub(crate) struct Rusty(Synthesizer);

impl Rusty {
    pub(crate) fn new(font: &Path) -> Self {
        let mut file = File::open(font).expect("the sound font can be read");
        let font = Arc::new(SoundFont::new(&mut file).expect("it is a sound font"));
        let mut settings = SynthesizerSettings::new(RATE as i32);
        settings.enable_reverb_and_chorus = false;
        let mut synth = Synthesizer::new(&font, &settings).expect("the settings are in range");
        for channel in 0..6 {
            synth.process_midi_message(channel, 0xC0, i32::from(STEEL), 0);
        }
        Self(synth)
    }
}

impl Player for Rusty {
    fn name(&self) -> &'static str {
        "rustysynth 1.3"
    }

    fn strike(&mut self, stroke: &Stroke) {
        let (channel, key) = (i32::from(stroke.string), i32::from(stroke.key));
        self.0.note_off(channel, key);
        self.0.note_on(channel, key, i32::from(stroke.velocity));
    }

    fn block(&mut self, left: &mut [f32; BLOCK], right: &mut [f32; BLOCK]) {
        self.0.render(left, right);
    }
}

/// oxisynth.
pub(crate) struct Oxi(Synth);

impl Oxi {
    pub(crate) fn new(font: &Path) -> Self {
        let settings = SynthDescriptor {
            sample_rate: RATE as f32,
            reverb_active: false,
            chorus_active: false,
            ..SynthDescriptor::default()
        };
        let mut synth = Synth::new(settings).expect("the settings are in range");
        let mut file = File::open(font).expect("the sound font can be read");
        synth.add_font(oxisynth::SoundFont::load(&mut file).expect("it is a sound font"), true);
        for channel in (0_u8..).take(CHORD.len()) {
            let program = MidiEvent::ProgramChange { channel, program_id: STEEL };
            synth.send_event(program).expect("the program is there");
        }
        Self(synth)
    }
}

impl Player for Oxi {
    fn name(&self) -> &'static str {
        "oxisynth 0.1"
    }

    fn strike(&mut self, stroke: &Stroke) {
        let (channel, key) = (stroke.string, stroke.key);
        // There is no note to end at the first stroke.
        let _ = self.0.send_event(MidiEvent::NoteOff { channel, key });
        self.0.send_event(MidiEvent::NoteOn { channel, key, vel: stroke.velocity }).expect("a note in range");
    }

    fn block(&mut self, left: &mut [f32; BLOCK], right: &mut [f32; BLOCK]) {
        for (left, right) in left.iter_mut().zip(right) {
            (*left, *right) = self.0.read_next();
        }
    }
}

//! Files are made by another's writer (hound), or byte by byte; the packed ones by sox and lame: half a second of a
//! 441 Hz sine at −6 dB, 22,050 Hz, stereo.

use std::io::Cursor;

use hound::{SampleFormat, WavSpec, WavWriter};

use super::error::Trouble;
use super::keep::{Decoded, Frames};
use super::{Recording, decode, decode_reader, decode_stereo};

const PACKED: [(&str, &[u8]); 3] = [
    ("flac", include_bytes!("samples/tone.flac")),
    ("ogg", include_bytes!("samples/tone.ogg")),
    ("mp3", include_bytes!("samples/tone.mp3")),
];

fn read(bytes: &[u8]) -> Result<Recording, Trouble> {
    decode_reader(Cursor::new(bytes.to_vec()), bytes.len() as u64, Frames::take()).map(Recording::from)
}

fn read_stereo(bytes: &[u8], go_on: &mut dyn FnMut(f64) -> bool) -> Result<Decoded<[f32; 2]>, Trouble> {
    decode_reader(Cursor::new(bytes.to_vec()), bytes.len() as u64, Frames::song(go_on))
}

fn spec(bits: u16, channels: u16, rate: u32) -> WavSpec {
    let sample_format = if bits == 0 { SampleFormat::Float } else { SampleFormat::Int };
    WavSpec { channels, sample_rate: rate, bits_per_sample: if bits == 0 { 32 } else { bits }, sample_format }
}

/// A sine in each channel, each at its own pitch and loudness.
fn sample(frame: u32, channel: u16) -> f64 {
    let channel = f64::from(channel);
    (f64::from(frame) * (0.01 + 0.007 * channel)).sin() * (0.9 - 0.1 * channel)
}

/// A WAV of `frames` frames; `bits` 0 for float.
fn wav(bits: u16, channels: u16, rate: u32, frames: u32) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut file, spec(bits, channels, rate)).expect("memory takes it");
    for (frame, channel) in (0..frames).flat_map(|frame| (0..channels).map(move |channel| (frame, channel))) {
        let value = sample(frame, channel);
        let written = match bits {
            #[expect(clippy::cast_possible_truncation, reason = "test samples")]
            0 => writer.write_sample(value as f32),
            #[expect(clippy::cast_possible_truncation, reason = "test samples")]
            bits => writer.write_sample((value * 2_f64.powi(i32::from(bits) - 1)).round() as i32),
        };
        written.expect("memory takes it");
    }
    writer.finalize().expect("memory takes it");
    file.into_inner()
}

#[test]
fn every_depth_channel_count_and_rate_is_read() {
    for bits in [8, 16, 24, 32, 0] {
        for channels in 1..=8 {
            for rate in [8_000, 11_025, 44_100, 48_000, 96_000, 192_000] {
                let recording = read(&wav(bits, channels, rate, 500)).expect("a legal file");
                assert_eq!((recording.rate, recording.channels, recording.mono.len()), (rate, channels, 500));
                assert!(!recording.truncated);
                // Half a step of rounding, and what an f32 can't hold.
                let step = if bits == 0 { 0.0 } else { 0.5 / 2_f64.powi(i32::from(bits) - 1) };
                for (frame, &heard) in (0..).zip(&recording.mono) {
                    let mean = (0..channels).map(|channel| sample(frame, channel)).sum::<f64>() / f64::from(channels);
                    let off = (f64::from(heard) - mean).abs();
                    assert!(off <= step + 3e-7, "{bits} bits, {channels} channels, frame {frame}: {off}");
                }
            }
        }
    }
}

#[test]
fn what_is_no_number_is_kept_for_the_judge_to_refuse() {
    let mut file = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut file, spec(0, 2, 48_000)).expect("memory takes it");
    for value in [0.5, f32::NAN, f32::INFINITY, 0.0, 4.0, 2.0] {
        writer.write_sample(value).expect("memory takes it");
    }
    writer.finalize().expect("memory takes it");
    let mono = read(file.get_ref()).expect("a legal file").mono;
    assert!(mono[0].is_nan() && mono[1] == f32::INFINITY && mono[2] == 3.0, "{mono:?}");
}

#[test]
fn a_cut_off_wav_is_read_as_far_as_it_goes() {
    for bits in [8, 16, 24, 0] {
        let whole = wav(bits, 2, 44_100, 3000);
        let all = read(&whole).expect("a legal file");
        for end in (0..whole.len()).step_by(97) {
            match read(&whole[..end]) {
                Ok(part) => {
                    assert!(part.truncated, "{bits} bits cut at {end}");
                    assert_eq!(part.mono[..], all.mono[..part.mono.len()]);
                    let frame = if bits == 0 { 8 } else { usize::from(bits) / 4 };
                    assert!(end >= whole.len() - (3000 - part.mono.len()) * frame, "nothing was made up");
                }
                Err(Trouble::Empty | Trouble::NotAudio) => assert!(end < 97, "{bits} bits cut at {end} is lost"),
                Err(other) => panic!("{bits} bits cut at {end}: {other:?}"),
            }
        }
    }
}

#[test]
fn packed_files_are_read() {
    for (name, bytes) in PACKED {
        let recording = read(bytes).expect(name);
        assert_eq!((recording.rate, recording.channels, recording.truncated), (22_050, 2, false), "{name}");
        // Half a second; an MP3 without a word about its padding may be two frames of 1152 longer (ISO 11172-3).
        let frames = recording.mono.len();
        assert!((11_025..=11_025 + 2 * 1152).contains(&frames), "{name}: {frames}");
        // −6 dB is 0.501 peak, 0.354 rms; lame takes 5 % off so that its own errors do not clip.
        let middle = &recording.mono[4000..8000];
        let rms = (middle.iter().map(|it| f64::from(it * it)).sum::<f64>() / 4000.0).sqrt();
        assert!((0.33..0.36).contains(&rms), "{name}: {rms}");
        let crossings = middle.windows(2).filter(|it| it[0] < 0.0 && it[1] >= 0.0).count();
        assert!((79..=81).contains(&crossings), "{name}: 441 Hz in 4000 frames is 80, not {crossings}");
    }
}

#[test]
fn a_cut_off_packed_file_never_panics() {
    for (name, bytes) in PACKED {
        let all = read(bytes).expect(name).mono.len();
        for end in (0..bytes.len()).step_by(97) {
            if let Ok(part) = read(&bytes[..end]) {
                assert!(part.mono.len() <= all, "{name} cut at {end}");
            }
        }
    }
    let flac = PACKED[0].1;
    assert!(read(&flac[..flac.len() / 2]).expect("half a FLAC").truncated, "its head says how long it was");
}

#[test]
fn damaged_files_never_panic() {
    let wav = wav(16, 2, 44_100, 200);
    let files = PACKED.iter().map(|(_, bytes)| *bytes).chain([&wav[..]]);
    for bytes in files {
        for at in (0..bytes.len().min(200)).chain((200..bytes.len()).step_by(263)) {
            for value in [0, 0xFF] {
                let mut damaged = bytes.to_vec();
                damaged[at] = value;
                drop(read(&damaged));
            }
        }
    }
}

/// A chunk of a RIFF file.
fn chunk(id: &[u8; 4], length: u32, bytes: &[u8]) -> Vec<u8> {
    [&id[..], &length.to_le_bytes(), bytes].concat()
}

/// A `fmt ` chunk of 16 bytes, as in Microsoft's and IBM's description of 1991.
fn format(tag: u16, channels: u16, rate: u32, frame: u16, bits: u16) -> Vec<u8> {
    let words = |it: u16| it.to_le_bytes();
    let bytes = [
        &words(tag)[..],
        &words(channels),
        &rate.to_le_bytes(),
        &(rate * u32::from(frame)).to_le_bytes(),
        &words(frame),
        &words(bits),
    ];
    chunk(b"fmt ", 16, &bytes.concat())
}

fn riff(id: &[u8; 4], length: u32, chunks: &[Vec<u8>]) -> Vec<u8> {
    [chunk(id, length, b"WAVE"), chunks.concat()].concat()
}

fn check(name: &str, file: &[u8], expected: Result<(usize, bool), &str>) {
    let found = read(file).map(|it| (it.mono.len(), it.truncated)).map_err(|trouble| format!("{trouble:?}"));
    match (found, expected) {
        (Ok(found), Ok(expected)) => assert_eq!(found, expected, "{name}"),
        (Err(found), Err(expected)) => assert!(found.starts_with(expected), "{name}: {found}"),
        (found, expected) => panic!("{name}: {found:?}, not {expected:?}"),
    }
}

#[test]
fn odd_headers_are_read_where_they_mean_something() {
    let pcm = || format(1, 1, 48_000, 2, 16);
    let sound = [1_u8, 2, 3, 4, 5, 6];
    let file = |id: &[u8; 4], chunks: &[Vec<u8>]| riff(id, 36 + 6, chunks);
    check("whole", &file(b"RIFF", &[pcm(), chunk(b"data", 6, &sound)]), Ok((3, false)));
    check("streamed to a pipe", &riff(b"RIFF", u32::MAX, &[pcm(), chunk(b"data", u32::MAX, &sound)]), Ok((3, false)));
    check("recorder killed", &riff(b"RIFF", 0, &[pcm(), chunk(b"data", 0, &sound)]), Ok((3, false)));
    check("cut off", &file(b"RIFF", &[pcm(), chunk(b"data", 60, &sound)]), Ok((3, true)));
    check("half a sample left", &file(b"RIFF", &[pcm(), chunk(b"data", 60, &sound[..5])]), Ok((2, true)));
    check(
        "a chunk of odd length before",
        &file(b"RIFF", &[chunk(b"LIST", 3, b"abc\0"), pcm(), chunk(b"data", 6, &sound)]),
        Ok((3, false)),
    );
    check(
        "a chunk after",
        &file(b"RIFF", &[pcm(), chunk(b"data", 6, &sound), chunk(b"LIST", 4, b"abcd")]),
        Ok((3, false)),
    );
    let long = [[0; 8], 6_u64.to_le_bytes(), [0; 8]].concat();
    let rf64 = [chunk(b"ds64", 24, &long), pcm(), chunk(b"data", u32::MAX, &sound), chunk(b"LIST", 4, b"abcd")];
    check("RF64", &riff(b"RF64", u32::MAX, &rf64), Ok((3, false)));
    check(
        "f64",
        &file(b"RIFF", &[format(3, 1, 48_000, 8, 64), chunk(b"data", 8, &0.5_f64.to_le_bytes())]),
        Ok((1, false)),
    );
    check("20 bits in 24", &file(b"RIFF", &[format(1, 1, 48_000, 3, 20), chunk(b"data", 6, &sound)]), Ok((2, false)));
}

#[test]
fn what_cannot_be_read_says_why() {
    let pcm = format(1, 1, 48_000, 2, 16);
    let data = || chunk(b"data", 6, &[0; 6]);
    check("nothing", b"", Err("Empty"));
    check("a few bytes", b"RIFF", Err("NotAudio"));
    check("text", &b"a lesson is a text file, not a recording ".repeat(40), Err("NotAudio"));
    check("only a head", &riff(b"RIFF", 4, &[]), Err("NotAudio"));
    check("no sound", &riff(b"RIFF", 36, &[pcm.clone(), chunk(b"data", 0, &[])]), Err("Empty"));
    check("no data chunk", &riff(b"RIFF", 36, std::slice::from_ref(&pcm)), Err("Empty"));
    check("data before its format", &riff(b"RIFF", 42, &[data(), pcm]), Err("NotAudio"));
    check("no channels", &riff(b"RIFF", 42, &[format(1, 0, 48_000, 2, 16), data()]), Err("NotAudio"));
    check("no rate", &riff(b"RIFF", 42, &[format(1, 1, 0, 2, 16), data()]), Err("NotAudio"));
    check("no bits", &riff(b"RIFF", 42, &[format(1, 1, 48_000, 0, 0), data()]), Err("Kind"));
    check("a broken frame", &riff(b"RIFF", 42, &[format(1, 2, 48_000, 5, 16), data()]), Err("Kind"));
    check("A-law", &riff(b"RIFF", 42, &[format(6, 1, 8_000, 1, 8), data()]), Err("Kind"));
}

#[test]
fn more_than_two_hours_are_refused() {
    // At one frame a second two hours are 7200 frames.
    let file =
        |frames: u32| riff(b"RIFF", 36, &[format(1, 1, 1, 1, 8), chunk(b"data", frames, &vec![0; frames as usize])]);
    check("two hours", &file(7200), Ok((7200, false)));
    check("a second more", &file(7201), Err("TooLong"));
}

#[test]
fn a_recording_to_play_along_with_keeps_its_two_sides() {
    for channels in 1..=6 {
        let file = wav(16, channels, 44_100, 300);
        let song = read_stereo(&file, &mut |_| true).expect("a legal file");
        let mono = read(&file).expect("a legal file").mono;
        assert_eq!((song.rate, song.channels, song.kept.len()), (44_100, channels, 300));
        for (frame, (sides, mono)) in (0..).zip(song.kept.iter().zip(mono)) {
            if channels == 2 {
                let off = |side: u16| (f64::from(sides[usize::from(side)]) - sample(frame, side)).abs();
                assert!(off(0) < 1e-4 && off(1) < 1e-4, "frame {frame}");
            } else {
                assert_eq!(*sides, [mono; 2], "{channels} channels, frame {frame}");
            }
        }
    }
    for (name, bytes) in PACKED {
        let song = read_stereo(bytes, &mut |_| true).expect(name);
        let mono = read(bytes).expect(name).mono;
        assert_eq!(song.kept.len(), mono.len(), "{name}");
        let off = song.kept.iter().zip(mono).map(|(sides, mono)| (f32::midpoint(sides[0], sides[1]) - mono).abs());
        assert!(off.fold(0.0, f32::max) < 1e-6, "{name}");
    }
}

#[test]
fn more_than_twelve_minutes_to_play_along_with_are_refused_and_reading_stops_when_told() {
    let file =
        |frames: u32| riff(b"RIFF", 36, &[format(1, 1, 1, 1, 8), chunk(b"data", frames, &vec![0; frames as usize])]);
    assert_eq!(read_stereo(&file(720), &mut |_| true).map(|song| song.kept.len()).ok(), Some(720));
    assert!(matches!(read_stereo(&file(721), &mut |_| true), Err(Trouble::TooLong(_))));
    let long = wav(16, 2, 44_100, 300_000);
    let mut told = Vec::new();
    let stopped = read_stereo(&long, &mut |seconds| {
        told.push(seconds);
        told.len() < 2
    });
    assert!(matches!(stopped, Err(Trouble::Stopped)) && told.len() == 2 && told[1] > 2.9, "{told:?}");
}

#[test]
fn damaged_recordings_to_play_along_with_never_panic_and_say_what_can_be_read() {
    let wav = wav(16, 2, 44_100, 200);
    for bytes in PACKED.iter().map(|(_, bytes)| *bytes).chain([&wav[..]]) {
        for at in (0..bytes.len().min(120)).step_by(3) {
            for value in [0x55, 0x80] {
                let mut damaged = bytes.to_vec();
                damaged[at] = value;
                drop(read_stereo(&damaged, &mut |_| true));
            }
        }
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("song.mp3");
    std::fs::write(&path, b"no music in here").expect("a file");
    let refused = decode_stereo(&path, &mut |_| true).expect_err("text is no music").to_string();
    assert!(refused.ends_with("hint: WAV, FLAC, Ogg Vorbis and MP3 can be read"), "{refused}");
}

#[test]
fn messages_name_the_file_and_hint() {
    let folder = tempfile::tempdir().expect("a folder");
    let missing = decode(&folder.path().join("take.wav")).expect_err("not there");
    assert!(missing.message().ends_with("take.wav: there is no such file"), "{missing}");
    let itself = decode(folder.path()).expect_err("a folder");
    assert!(itself.to_string().ends_with("this is a folder\nhint: name a file in it"), "{itself}");
}

//! Streams on sound devices, through cpal.

use std::str::FromStr as _;
use std::sync::Arc;
use std::time::Duration;

use cpal::traits::{DeviceTrait as _, HostTrait as _, StreamTrait as _};
use cpal::{Device, DeviceId, FromSample, I24, InputCallbackInfo, OutputCallbackInfo, SampleFormat, SizedSample};
use cpal::{Stream, StreamConfig, StreamInstant, U24};

use crate::backend::{Ask, Driver, choose};
use crate::callback::{InputSide, OutputSide};
use crate::clock::Times;
use crate::config::{Choice, Pick};
use crate::event::{Opened, Which, Why};
use crate::watch::Build;

/// How often a stream's thread looks up when its device says nothing, so that it sees one that went without a word.
const LOOK_UP: Duration = Duration::from_millis(500);

/// Opens and starts an output.
pub(crate) fn open_output(choice: &Choice, ask: Ask, mut build: Build<OutputSide>) -> Result<(Driver, Opened), Why> {
    let (device, note) = find(choice, Which::Output)?;
    let offers: Vec<_> = device.supported_output_configs().map_err(refused)?.collect();
    let (config, format) = choose(&offers, ask).ok_or_else(no_format)?;
    if let Some(side) = build.cargo.get() {
        side.opened(config.sample_rate);
    }
    let stream = match format {
        SampleFormat::I8 => output::<i8>(&device, config, build),
        SampleFormat::I16 => output::<i16>(&device, config, build),
        SampleFormat::I24 => output::<I24>(&device, config, build),
        SampleFormat::I32 => output::<i32>(&device, config, build),
        SampleFormat::I64 => output::<i64>(&device, config, build),
        SampleFormat::U8 => output::<u8>(&device, config, build),
        SampleFormat::U16 => output::<u16>(&device, config, build),
        SampleFormat::U24 => output::<U24>(&device, config, build),
        SampleFormat::U32 => output::<u32>(&device, config, build),
        SampleFormat::U64 => output::<u64>(&device, config, build),
        SampleFormat::F32 => output::<f32>(&device, config, build),
        SampleFormat::F64 => output::<f64>(&device, config, build),
        _ => return Err(no_format()),
    };
    start(&device, stream.map_err(refused)?, config, note)
}

/// Opens and starts an input.
pub(crate) fn open_input(
    choice: &Choice,
    pick: Pick,
    ask: Ask,
    mut build: Build<InputSide>,
) -> Result<(Driver, Opened), Why> {
    let (device, note) = find(choice, Which::Input)?;
    let offers: Vec<_> = device.supported_input_configs().map_err(refused)?.collect();
    let (config, format) = choose(&offers, ask).ok_or_else(no_format)?;
    if let Some(side) = build.cargo.get() {
        side.opened(config.sample_rate, pick);
    }
    let stream = match format {
        SampleFormat::I8 => input::<i8>(&device, config, build),
        SampleFormat::I16 => input::<i16>(&device, config, build),
        SampleFormat::I24 => input::<I24>(&device, config, build),
        SampleFormat::I32 => input::<i32>(&device, config, build),
        SampleFormat::I64 => input::<i64>(&device, config, build),
        SampleFormat::U8 => input::<u8>(&device, config, build),
        SampleFormat::U16 => input::<u16>(&device, config, build),
        SampleFormat::U24 => input::<U24>(&device, config, build),
        SampleFormat::U32 => input::<u32>(&device, config, build),
        SampleFormat::U64 => input::<u64>(&device, config, build),
        SampleFormat::F32 => input::<f32>(&device, config, build),
        SampleFormat::F64 => input::<f64>(&device, config, build),
        _ => return Err(no_format()),
    };
    start(&device, stream.map_err(refused)?, config, note)
}

fn output<T: SizedSample + FromSample<f32>>(
    device: &Device,
    config: StreamConfig,
    build: Build<OutputSide>,
) -> Result<Stream, cpal::Error> {
    let Build { mut cargo, health } = build;
    let (blocks, channels) = (Arc::clone(&health), usize::from(config.channels));
    let callback = move |out: &mut [T], info: &OutputCallbackInfo| {
        sixrung_audio::flush_denormals();
        blocks.block();
        let at = info.timestamp();
        if let Some(side) = cargo.get() {
            side.render(out, channels, times(at.callback, at.playback));
        }
    };
    device.build_output_stream(config, callback, move |error| health.error(error.kind()), Some(LOOK_UP))
}

fn input<T: SizedSample>(device: &Device, config: StreamConfig, build: Build<InputSide>) -> Result<Stream, cpal::Error>
where
    f32: FromSample<T>,
{
    let Build { mut cargo, health } = build;
    let (blocks, channels) = (Arc::clone(&health), usize::from(config.channels));
    let callback = move |data: &[T], info: &InputCallbackInfo| {
        blocks.block();
        let at = info.timestamp();
        if let Some(side) = cargo.get() {
            side.take(data, channels, times(at.callback, at.capture));
        }
    };
    device.build_input_stream(config, callback, move |error| health.error(error.kind()), Some(LOOK_UP))
}

fn start(device: &Device, stream: Stream, config: StreamConfig, note: Option<String>) -> Result<(Driver, Opened), Why> {
    stream.play().map_err(refused)?;
    let asked = if let cpal::BufferSize::Fixed(frames) = config.buffer_size { frames } else { 0 };
    let opened = Opened {
        id: device.id().map(|id| id.to_string()).unwrap_or_default(),
        name: device.to_string(),
        rate: config.sample_rate,
        buffer: stream.buffer_size().unwrap_or(asked),
        channels: config.channels,
        note,
    };
    Ok((Driver::Stream(stream), opened))
}

/// The device, and a note if it is not the one asked for.
fn find(choice: &Choice, which: Which) -> Result<(Device, Option<String>), Why> {
    crate::quiet::hush();
    let note = match choice {
        Choice::Default => None,
        Choice::Id(id) => match by_id(id) {
            Some(device) => return Ok((device, None)),
            None => Some(format!("`{id}` is not there; using the system's default instead")),
        },
    };
    let host = cpal::default_host();
    let device = match which {
        Which::Output => host.default_output_device(),
        Which::Input => host.default_input_device(),
    };
    device.map(|device| (device, note)).ok_or_else(|| Why::Refused("there is no sound device".to_owned()))
}

fn by_id(id: &str) -> Option<Device> {
    let id = DeviceId::from_str(id).ok()?;
    let host = cpal::host_from_id(id.host()).ok()?;
    // The system's default has an id too, but some hosts do not list it among the devices.
    host.device_by_id(&id)
        .or_else(|| host.default_output_device().filter(|device| device.id().ok().as_ref() == Some(&id)))
        .or_else(|| host.default_input_device().filter(|device| device.id().ok().as_ref() == Some(&id)))
}

#[expect(clippy::needless_pass_by_value, reason = "made for map_err")]
fn refused(error: cpal::Error) -> Why {
    use cpal::ErrorKind::{
        DeviceBusy, DeviceNotAvailable, HostUnavailable, PermissionDenied, UnsupportedConfig, UnsupportedOperation,
    };
    Why::Refused(match error.kind() {
        DeviceBusy => "the device is in use by another program".to_owned(),
        DeviceNotAvailable => "no sound device answers".to_owned(),
        HostUnavailable => "the sound system does not answer".to_owned(),
        PermissionDenied => "the system does not let this program use the device".to_owned(),
        UnsupportedConfig | UnsupportedOperation => return no_format(),
        _ => error.to_string().to_lowercase().trim_end_matches('.').to_owned(),
    })
}

fn no_format() -> Why {
    Why::Refused("the device offers no format that can be used".to_owned())
}

fn times(callback: StreamInstant, device: StreamInstant) -> Times {
    let ns = |instant: StreamInstant| i64::try_from(instant.as_nanos()).unwrap_or(i64::MAX);
    Times { callback_ns: ns(callback), device_ns: ns(device) }
}

//! `sixrung devices`: what sound devices there are.

use std::io::Write;

use serde::Serialize;
use sixrung_devices::{Device, list};

use super::args::Devices;
use super::fault::Fault;
use super::unprinted;

#[derive(Serialize)]
struct Listed {
    outputs: Vec<DeviceJson>,
    inputs: Vec<DeviceJson>,
}

#[derive(Serialize)]
struct DeviceJson {
    id: String,
    name: String,
    default: bool,
}

/// Lists outputs and inputs; exit code 0 even when there are none.
pub(super) fn devices(args: &Devices, out: &mut dyn Write) -> Result<u8, Fault> {
    let devices = list().map_err(|error| Fault::error(error.message()).hint(error.hint()))?;
    let listed = Listed {
        outputs: devices.outputs.iter().map(json).collect(),
        inputs: devices.inputs.iter().map(json).collect(),
    };
    print(args, &listed, out).map_err(|error| unprinted(&error))?;
    Ok(0)
}

fn json(device: &Device) -> DeviceJson {
    DeviceJson { id: device.id.clone(), name: device.name.clone(), default: device.default }
}

fn print(args: &Devices, listed: &Listed, out: &mut dyn Write) -> std::io::Result<()> {
    if args.json {
        serde_json::to_writer_pretty(&mut *out, listed)?;
        return writeln!(out);
    }
    for (kind, devices) in [("outputs", &listed.outputs), ("inputs", &listed.inputs)] {
        if devices.is_empty() {
            writeln!(out, "no {kind}: the window opens all the same, silent, and passes are marked by hand")?;
            continue;
        }
        writeln!(out, "{kind}:")?;
        for device in devices {
            let mark = if device.default { "  (the system's choice)" } else { "" };
            writeln!(out, "  {}{mark}\n    id {}", device.name, device.id)?;
        }
    }
    Ok(())
}

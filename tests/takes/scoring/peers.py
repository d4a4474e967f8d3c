"""Other onset detectors on the same takes: librosa's and aubio's. They know nothing of the lesson."""

import time
from dataclasses import dataclass, field

import numpy as np

from .shares import table
from .strums import WINDOWS_S, errors_of, f_measure

# What is outside of the passes is not held against them.
BEFORE_S, AFTER_S = 0.25, 0.75


@dataclass
class Peer:
    """What one detector heard in each take, and the processor time that took."""

    name: str
    heard: list = field(default_factory=list)
    cpu_s: list = field(default_factory=list)


def librosa_flux(sound, rate):
    import librosa

    return librosa.onset.onset_detect(y=sound, sr=rate, units="time")


def librosa_superflux(sound, rate):
    """As librosa's own example of Böck and Widmer 2013 sets it, its hop kept at 5 ms of this rate."""
    import librosa

    hop = rate // 200
    mel = librosa.feature.melspectrogram(y=sound, sr=rate, n_fft=2048, hop_length=hop, fmin=27.5, fmax=16000, n_mels=138)
    envelope = librosa.onset.onset_strength(S=librosa.power_to_db(mel, ref=np.max), sr=rate, lag=2, max_size=3)
    return librosa.onset.onset_detect(onset_envelope=envelope, sr=rate, hop_length=hop, units="time")


def aubio_method(method):
    def detect(sound, rate):
        import aubio

        detector = aubio.onset(method, 1024, 256, rate)
        times = []
        for start in range(0, len(sound) - 255, 256):
            if detector(sound[start : start + 256]):
                times.append(detector.get_last_s())
        return np.array(times)

    return detect


DETECTORS = {
    "librosa spectral flux": librosa_flux,
    "librosa superflux": librosa_superflux,
    "aubio specflux": aubio_method("specflux"),
    "aubio hfc": aubio_method("hfc"),
}


def read(wav):
    """The samples of a take."""
    data = np.frombuffer(wav.read_bytes()[44:], dtype="<i2")
    return data.astype(np.float32) / 32768.0, 48_000


def listen(takes):
    """All detectors over all takes. The first take is heard twice, so that compiling is not counted."""
    peers = [Peer(name) for name in DETECTORS]
    for index, take in enumerate(takes):
        sound, rate = read(take.path.with_suffix(".wav"))
        expected = [stroke["expected_s"] for stroke in take.truth["strokes"]]
        for peer in peers:
            detect = DETECTORS[peer.name]
            if index == 0:
                detect(sound, rate)
            before = time.process_time()
            heard = np.asarray(detect(sound, rate), dtype=float)
            peer.cpu_s.append(time.process_time() - before)
            within = (heard > expected[0] - BEFORE_S) & (heard < expected[-1] + AFTER_S)
            peer.heard.append(np.sort(heard[within]))
    return peers


def latency_s(takes, heard):
    """Median of the nearest detection within 50 ms of each strum."""
    offsets = []
    for take, times in zip(takes, heard, strict=True):
        for played in take.played() if len(times) else []:
            nearest = times[np.argmin(np.abs(times - played))] - played
            if abs(nearest) <= WINDOWS_S[-1]:
                offsets.append(nearest)
    return float(np.median(offsets)) if offsets else 0.0


def line(name, takes, heard, cpu_s):
    removed = latency_s(takes, heard)
    scores, errors = [], []
    for window in WINDOWS_S:
        pairs = zip(takes, heard, strict=True)
        scores.append(np.mean([f_measure(take.played(), times - removed, window) for take, times in pairs]))
    for take, times in zip(takes, heard, strict=True):
        errors += errors_of(take.played(), times - removed)
    spread = [f"{np.percentile(errors, q):.1f}" if errors else "–" for q in (50, 95)]
    total_s = sum(take.length_s for take in takes)
    return [name, *(f"{score:.3f}" for score in scores), *spread, f"{cpu_s / total_s:.4f}" if total_s else "–"]


def peer_table(takes, peers):
    """Ours beside the peers, over all takes and in each condition; the judge's processor time is the whole program's,
    the peers' that of the detector alone."""
    lines = []
    head = ["detector", "F25*", "F50*", "median error ms*", "p95 ms*", "CPU / length"]
    for condition in ["all", *sorted({take.truth["condition"] for take in takes})]:
        at = [index for index, take in enumerate(takes) if condition in ("all", take.truth["condition"])]
        here = [takes[index] for index in at]
        rows = [line("sixrung judge", here, [take.heard() for take in here], sum(take.cpu_s for take in here))]
        for peer in peers:
            cpu_s = sum(peer.cpu_s[index] for index in at)
            rows.append(line(peer.name, here, [peer.heard[index] for index in at], cpu_s))
        lines += [f"{condition}, {len(here)} takes:", "", *table(head, rows), ""]
    return lines

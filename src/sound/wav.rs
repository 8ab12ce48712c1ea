use super::SAMPLE_RATE;
use super::track::Track;

const CHANNELS: u16 = 2;
const BYTES_A_SAMPLE: u16 = 2;

/// The bytes of a WAV file: 16 bits, two channels, 44.1 kHz.
///
/// The header is the 44 bytes of the RIFF WAVE form with a PCM `fmt ` chunk (Multimedia Programming Interface and Data
/// Specifications 1.0, 1991; figures from memory, held against an outside reader in the tests).
pub fn wav(track: &Track) -> Vec<u8> {
    let frame = CHANNELS * BYTES_A_SAMPLE;
    let data = track.left.len() as u32 * u32::from(frame);
    let mut bytes = Vec::with_capacity(data as usize + 44);
    bytes.extend(b"RIFF");
    bytes.extend((36 + data).to_le_bytes());
    bytes.extend(b"WAVEfmt ");
    bytes.extend(16_u32.to_le_bytes());
    bytes.extend(1_u16.to_le_bytes());
    bytes.extend(CHANNELS.to_le_bytes());
    bytes.extend(SAMPLE_RATE.to_le_bytes());
    bytes.extend((SAMPLE_RATE * u32::from(frame)).to_le_bytes());
    bytes.extend(frame.to_le_bytes());
    bytes.extend((BYTES_A_SAMPLE * 8).to_le_bytes());
    bytes.extend(b"data");
    bytes.extend(data.to_le_bytes());
    for (left, right) in track.left.iter().zip(&track.right) {
        bytes.extend(whole(*left).to_le_bytes());
        bytes.extend(whole(*right).to_le_bytes());
    }
    bytes
}

fn whole(sample: f32) -> i16 {
    (sample.clamp(-1.0, 1.0) * 32_767.0).round() as i16
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outside_reader_finds_the_samples_again() {
        let track = Track {
            left: vec![0.0, 0.5, -1.0],
            right: vec![1.0, 2.0, -0.25],
        };
        let mut reader = hound::WavReader::new(std::io::Cursor::new(wav(&track))).expect("hound reads the header");
        let spec = reader.spec();
        assert_eq!((spec.channels, spec.sample_rate, spec.bits_per_sample), (2, 44_100, 16));
        let samples: Vec<i16> = reader.samples().map(|sample| sample.expect("a sample")).collect();
        assert_eq!(samples, [0, 32_767, 16_384, 32_767, -32_767, -8192]);
    }
}

//! A bar from what is stamped on it.

use super::note::noted;
use super::rounded;
use crate::ranges;
use crate::record::{BarFile, ChainFile, ConstructionFile, NoseFile, PartKind, PowerheadFile};
use crate::saw::{LoopPath, sprocket_pitch_radius};
use crate::units::Length;

/// Teeth of a common nose sprocket; its rivet line less the rail gives the nose's radius.
pub(super) const NOSE_TEETH: u32 = 11;
/// What a plate is longer than its stamp, mm.
pub(super) const OVER_THE_STAMP_MM: f64 = 67.0;
/// Widths over the nose's width: the tail's share, and the body's difference at 8 in, growing by 1 mm for each in.
pub(super) const TAIL_SHARE: f64 = 0.96;
pub(super) const BODY_LESS_NOSE_MM: f64 = -8.0;
/// A plate's thickness over its gauge, and the depth of its groove over the pitch.
pub(super) const THICKNESS_OVER_GAUGE: f64 = 3.07;
pub(super) const GROOVE_OVER_PITCH: f64 = 0.735;
/// What laminated and lightened plates keep of a solid one.
pub(super) const LAMINATED_SHARE: f64 = 0.95;
pub(super) const LIGHTENED_SHARE: f64 = 0.76;

/// What a bar's loop runs on, for proposing length and links.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Teeth of the drive sprocket.
    pub teeth: u32,
    /// Pitch of the chain, in.
    pub pitch_in: f64,
    /// Rear stud ahead of the sprocket, mm.
    pub stud_mm: f64,
    /// Travel of the tensioner, mm.
    pub travel_mm: f64,
    /// Rivet line above the rail, mm.
    pub rail_to_rivet_mm: f64,
}

impl Drive {
    /// A head with a chain, or with a common chain of its pitch.
    pub fn of(head: &PowerheadFile, chain: Option<&ChainFile>) -> Self {
        let pitch_in = head.sprocket.pitch_in;
        Self {
            teeth: head.sprocket.teeth,
            pitch_in,
            stud_mm: head.stud_mm,
            travel_mm: head.tensioner_travel_mm,
            rail_to_rivet_mm: chain
                .map_or_else(|| super::chain::rail_to_rivet_mm(pitch_in), |chain| chain.rail_to_rivet_mm),
        }
    }

    /// Where the nose centre is with the tensioner in mid travel, for a bar of this shape.
    fn mid_mm(&self, bar: &BarFile) -> f64 {
        self.stud_mm + bar.overall_length_mm - bar.nose_radius_mm - bar.tail_behind_studs_mm
            + 0.5 * self.travel_mm
    }

    fn radii(&self, bar: &BarFile) -> (Length, Length) {
        let sprocket = sprocket_pitch_radius(self.teeth, Length::from_in(self.pitch_in));
        (sprocket, Length::from_mm(bar.nose_radius_mm + self.rail_to_rivet_mm))
    }

    /// Drive links that reach round a bar in mid tensioner.
    fn links_round(&self, bar: &BarFile) -> Option<u32> {
        let (sprocket, nose) = self.radii(bar);
        let path = LoopPath::with_centre_distance(sprocket, nose, Length::from_mm(self.mid_mm(bar)))?;
        let links = (path.length() / Length::from_in(2.0 * self.pitch_in)).round();
        let links = links.clamp(ranges::DRIVE_LINKS.min, ranges::DRIVE_LINKS.max);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number within DRIVE_LINKS"
        )]
        Some(links as u32)
    }

    /// Overall length at which a bar's own count of links closes in mid tensioner, mm.
    fn overall_mm(&self, bar: &BarFile) -> Option<f64> {
        let (sprocket, nose) = self.radii(bar);
        let length = Length::from_in(2.0 * self.pitch_in * f64::from(bar.marked_drive_links));
        let path = LoopPath::with_length(sprocket, nose, length).ok()?;
        let now = BarFile { overall_length_mm: 0.0, ..bar.clone() };
        Some((path.centre_distance().as_mm() - self.mid_mm(&now)).round())
    }
}

/// Puts a proposed value in every field that the bar's note names as proposed. Length and drive links follow each
/// other so that the loop closes on `drive` in mid tensioner; where it cannot, the length follows the stamp.
pub fn propose_bar(bar: &mut BarFile, drive: &Drive) {
    let note = bar.note.clone();
    let own = |path: &str| !noted(PartKind::Bar, &note, path);
    let pitch_in = match bar.nose {
        NoseFile::Sprocket { pitch_in } if own("nose.pitch_in") => pitch_in,
        NoseFile::Sprocket { .. } => {
            bar.nose = NoseFile::Sprocket { pitch_in: drive.pitch_in };
            drive.pitch_in
        }
        NoseFile::Solid => drive.pitch_in,
    };
    let pitch_mm = Length::from_in(pitch_in).as_mm();
    let nose = nose_radius_mm(pitch_in);
    let (tail, body) = widths_mm(nose, bar.marked_length_in);
    let gauge = bar.gauge_mm;
    let mut put = |path: &str, place: fn(&mut BarFile) -> &mut f64, value: f64| {
        if !own(path) {
            *place(bar) = value;
        }
    };
    put("nose_radius_mm", |bar| &mut bar.nose_radius_mm, nose);
    put("tail_width_mm", |bar| &mut bar.tail_width_mm, tail);
    put("body_width_mm", |bar| &mut bar.body_width_mm, body);
    let thickness = rounded(THICKNESS_OVER_GAUGE * gauge, 0.1, &ranges::BAR_THICKNESS);
    put("thickness_mm", |bar| &mut bar.thickness_mm, thickness);
    let groove = rounded(GROOVE_OVER_PITCH * pitch_mm, 0.5, &ranges::GROOVE_DEPTH);
    put("groove_depth_mm", |bar| &mut bar.groove_depth_mm, groove);
    let behind = rounded(0.5 * drive.stud_mm, 1.0, &ranges::TAIL_BEHIND_STUDS);
    put("tail_behind_studs_mm", |bar| &mut bar.tail_behind_studs_mm, behind);
    if !own("construction.share") {
        bar.construction = match bar.construction {
            ConstructionFile::Solid => ConstructionFile::Solid,
            ConstructionFile::Laminated { .. } => ConstructionFile::Laminated { share: LAMINATED_SHARE },
            ConstructionFile::Lightened { .. } => ConstructionFile::Lightened { share: LIGHTENED_SHARE },
        };
    }
    let drive = Drive { pitch_in, ..*drive };
    propose_length(bar, &drive, own("overall_length_mm"), own("marked_drive_links"));
}

fn propose_length(bar: &mut BarFile, drive: &Drive, own_length: bool, own_links: bool) {
    let shortest = 1.5 * bar.body_width_mm + bar.tail_behind_studs_mm;
    let range = &ranges::OVERALL_LENGTH;
    let by_stamp = Length::from_in(bar.marked_length_in).as_mm() + OVER_THE_STAMP_MM;
    let by_stamp = rounded(by_stamp.max(shortest.ceil()), 1.0, range);
    if !own_length {
        bar.overall_length_mm = by_stamp;
    }
    if !own_links && let Some(links) = drive.links_round(bar) {
        bar.marked_drive_links = links;
    }
    if !own_length {
        let closing = drive.overall_mm(bar).filter(|length| *length >= shortest && range.holds(*length));
        bar.overall_length_mm = closing.unwrap_or(by_stamp);
    }
}

/// Of a nose with a common sprocket.
fn nose_radius_mm(pitch_in: f64) -> f64 {
    let rivets = sprocket_pitch_radius(NOSE_TEETH, Length::from_in(pitch_in)).as_mm();
    rounded(rivets - super::chain::rail_to_rivet_mm(pitch_in), 0.5, &ranges::NOSE_RADIUS)
}

/// Tail and body.
fn widths_mm(nose_radius_mm: f64, stamp_in: f64) -> (f64, f64) {
    let nose = 2.0 * nose_radius_mm;
    let body = (nose + BODY_LESS_NOSE_MM + stamp_in).max(nose + 1.0);
    let body = rounded(body, 1.0, &ranges::BAR_WIDTH).max(nose);
    (rounded(TAIL_SHARE * nose, 1.0, &ranges::BAR_WIDTH).min(body), body)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::propose::mark_proposed;
    use crate::record::PartFile;
    use crate::saw::{Bar, Chain, Powerhead, loop_counts_that_close};
    use proptest::prelude::*;

    fn proposed(like: &BarFile, own: &[&str], drive: &Drive) -> BarFile {
        let mut part = PartFile::Bar(Box::new(BarFile { note: String::new(), ..like.clone() }));
        mark_proposed(&mut part, None);
        for path in own {
            crate::propose::unmark_proposed(&mut part, path);
        }
        let PartFile::Bar(mut bar) = part else { unreachable!() };
        propose_bar(&mut bar, drive);
        *bar
    }

    const STAMPED: [&str; 4] = ["marked_length_in", "nose.pitch_in", "gauge_mm", "marked_drive_links"];

    #[test]
    fn the_demos_bars_come_near_to_themselves_from_their_stamps() {
        let file = demo().unwrap().file().clone();
        let drive = Drive::of(&file.powerheads[0], Some(&file.chains[0]));
        for bar in file.bars.iter().filter(|bar| bar.mount == file.powerheads[0].mount) {
            let guess = proposed(bar, &STAMPED, &drive);
            let near = |a: f64, b: f64, within: f64, what: &str| {
                assert!((a - b).abs() <= within, "{} {what}: {a} for {b}", bar.name);
            };
            near(guess.overall_length_mm, bar.overall_length_mm, 15.0, "length");
            near(guess.body_width_mm, bar.body_width_mm, 4.0, "body");
            near(guess.nose_radius_mm, bar.nose_radius_mm, 2.5, "nose");
            near(guess.thickness_mm, bar.thickness_mm, 0.11, "thickness");
        }
    }

    #[test]
    fn the_loop_closes_on_the_head_in_mid_tensioner() {
        let file = demo().unwrap().file().clone();
        let (head, chain) = (&file.powerheads[0], &file.chains[0]);
        let drive = Drive::of(head, Some(chain));
        for links in [56, 60, 66, 72, 84, 98, 115] {
            let like = BarFile { marked_drive_links: links, ..file.bars[0].clone() };
            let bar = Bar::new(&proposed(&like, &STAMPED, &drive), 0).unwrap();
            let head = Powerhead::new(head, 0).unwrap();
            let chain = Chain::new(chain, 0).unwrap();
            let closing = loop_counts_that_close(&head, &bar, &chain);
            assert!(closing.contains(&links), "{links} not in {closing:?}");
        }
    }

    #[test]
    fn what_is_a_persons_own_stays() {
        let file = demo().unwrap().file().clone();
        let drive = Drive::of(&file.powerheads[0], Some(&file.chains[0]));
        let every: Vec<&str> =
            crate::propose::proposed_fields(PartKind::Bar).iter().map(|(path, _)| *path).collect();
        let bar = BarFile { note: String::new(), ..file.bars[4].clone() };
        assert_eq!(proposed(&bar, &every, &drive), bar);
    }

    proptest! {
        #[test]
        fn law_a_proposed_bar_passes_its_checks(
            stamp in 6.0..60.0_f64,
            pitch in 0.2..0.8_f64,
            gauge in 0.9..2.5_f64,
            links in 16_u32..260,
            teeth in 5_u32..14,
            stud in 10.0..300.0_f64,
            travel in 2.0..60.0_f64,
            solid_nose: bool,
            own_links: bool,
        ) {
            let file = demo().unwrap().file().clone();
            let drive =
                Drive { teeth, pitch_in: pitch, stud_mm: stud, travel_mm: travel, rail_to_rivet_mm: 6.0 };
            let nose = if solid_nose { NoseFile::Solid } else { NoseFile::Sprocket { pitch_in: pitch } };
            let like = BarFile {
                marked_length_in: stamp,
                nose,
                gauge_mm: gauge,
                marked_drive_links: links,
                construction: ConstructionFile::Laminated { share: 0.5 },
                ..file.bars[0].clone()
            };
            let own = if own_links { &STAMPED[..] } else { &STAMPED[..3] };
            let bar = proposed(&like, own, &drive);
            prop_assert!(Bar::new(&bar, 0).is_ok(), "{:?}", Bar::new(&bar, 0));
        }
    }
}

//! What is on the desk beside the yard: the log before the saw and what is wanted of a setup, as numbers that outlive the
//! window.

use super::{Document, LIMITS, Log};
use crate::desk::edit::RackEdit;
use barpoise_core::lesson::{BindFile, SettingFile, TangleFile};
use barpoise_core::log::{OwnSetting, SwingLimits};
use barpoise_core::rack::{Limit, Measure};
use barpoise_core::record::StandFile;
use barpoise_core::units::{Angle, Length};
use barpoise_core::{Fault, cutting_bar};
use serde::{Deserialize, Serialize};

/// The log and the wishes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Wishes {
    log: LogWish,
    rack: RackWish,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct LogWish {
    width_mm: f64,
    height_mm: Option<f64>,
    above_ground_mm: f64,
    stand: StandFile,
    swing_deg: [f64; 2],
    tangle: TangleFile,
    bind: BindFile,
    /// Settings made by hand; `None` while the plan stands.
    settings: Option<Vec<SettingFile>>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct RackWish {
    wood: Option<String>,
    must_suit: bool,
    /// In the order of [`LIMITS`], and whether each is in force.
    limits: Vec<(f64, bool)>,
    /// In the order of the measures.
    weights: Vec<f64>,
    pinned: Vec<String>,
}

impl Document {
    /// The log and what is wanted, as they stand. Bark that was dragged goes with the stand again.
    pub fn wishes(&self) -> Wishes {
        let (log, rack) = (self.log(), self.rack());
        let limits = LIMITS.iter().filter_map(|measure| rack.limit(*measure));
        let on_rack = |name: &&str| rack.is_pinned(name);
        Wishes {
            log: LogWish {
                width_mm: log.width().as_mm(),
                height_mm: log.height().map(Length::as_mm),
                above_ground_mm: log.clearance().as_mm(),
                stand: log.stand().into(),
                swing_deg: [log.swing().upward().as_deg(), log.swing().downward().as_deg()],
                tangle: log.tangle().into(),
                bind: log.bind().into(),
                settings: self.own_settings(),
            },
            rack: RackWish {
                wood: rack.wood().map(str::to_owned),
                must_suit: rack.must_suit(),
                limits: limits.map(|(limit, in_force)| (limit.bound, in_force)).collect(),
                weights: Measure::ALL.map(|measure| rack.weight(measure)).to_vec(),
                pinned: self
                    .yard()
                    .setups()
                    .iter()
                    .map(|setup| setup.name())
                    .filter(on_rack)
                    .map(str::to_owned)
                    .collect(),
            },
        }
    }

    fn own_settings(&self) -> Option<Vec<SettingFile>> {
        let own = self.log().own_settings()?;
        let job = self.log().job(self.yard().person()).ok()?;
        let bar = cutting_bar(self.figures().setup()).ok()?;
        Some(own.iter().map(|setting| SettingFile::of(&OwnSetting::of(setting, &job, &bar))).collect())
    }

    /// Goes on with them, as far as they go with this yard: at its opening, and so no step that could be undone.
    pub fn take_up(&mut self, wishes: &Wishes) {
        if let Ok(log) = self.wished_log(&wishes.log) {
            self.log = log;
            self.log_figures = std::cell::OnceCell::new();
        }
        let RackWish { wood, must_suit, limits, weights, pinned } = &wishes.rack;
        let limits = LIMITS.into_iter().zip(limits).flat_map(|(measure, (bound, in_force))| {
            [RackEdit::Limit(Limit { measure, bound: *bound }), RackEdit::LimitInForce(measure, *in_force)]
        });
        let weights = Measure::ALL.into_iter().zip(weights).map(|(of, weight)| RackEdit::Weigh(of, *weight));
        let pinned = pinned.iter().map(|name| RackEdit::Pin(name.clone(), true));
        let wood = wood.iter().map(|name| RackEdit::PickWood(name.clone()));
        let all = limits.chain(weights).chain(pinned).chain(wood).chain([RackEdit::MustSuit(*must_suit)]);
        for edit in all {
            if let Ok((_, rack)) = self.rack().changed(self.shared_yard(), self.rack_wood(), &edit) {
                self.take_wishes(rack);
            }
        }
    }

    fn wished_log(&self, wish: &LogWish) -> Result<Log, Fault> {
        let length = |mm: f64| Length::from_mm(mm);
        let [up, down] = wish.swing_deg.map(Angle::from_deg);
        let log = Log::round(length(wish.width_mm), wish.stand.into())?
            .lying(wish.height_mm.map(length), length(wish.above_ground_mm))?
            .within(None, SwingLimits::new(up, down)?)?
            .among(wish.tangle.into(), wish.bind.into())?;
        let Some(settings) = &wish.settings else { return Ok(log) };
        let (job, bar) = (log.job(self.yard().person())?, cutting_bar(self.figures().setup())?);
        let settings = settings.iter().map(|setting| setting.own().on(&job, &bar)).collect();
        Ok(log.cut_by_hand(settings))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::edit::{Edit, Gesture, LogEdit};
    use barpoise_core::log::{Bind, Stand, Tangle};

    fn asked(document: &mut Document, edits: Vec<Edit>) {
        for edit in edits {
            document.apply(edit, Gesture::Single);
            assert!(document.refusal().is_none(), "{:?}", document.refusal());
        }
    }

    #[test]
    fn what_was_on_the_desk_is_there_again() {
        let mut document = Document::demo().unwrap();
        asked(
            &mut document,
            vec![
                Edit::Log(LogEdit::Diameter(Length::from_mm(430.0))),
                Edit::Log(LogEdit::Clearance(Length::from_mm(320.0))),
                Edit::Log(LogEdit::Stand(Stand::BothSides)),
                Edit::Log(LogEdit::Tangle(Tangle::Near)),
                Edit::Log(LogEdit::Bind(Bind::Bottom)),
                Edit::Log(LogEdit::AddSetting),
                Edit::Rack(RackEdit::Limit(Limit { measure: Measure::Weight, bound: 7.5 })),
                Edit::Rack(RackEdit::MustSuit(false)),
                Edit::Rack(RackEdit::Weigh(Measure::Hang, 3.0)),
                Edit::Rack(RackEdit::Pin("Wren B18".to_owned(), true)),
                Edit::Rack(RackEdit::PickWood("Larch stems".to_owned())),
            ],
        );
        let text = serde_json::to_string(&document.wishes()).unwrap();
        let mut later = Document::demo().unwrap();
        assert_ne!(later.wishes(), document.wishes());
        later.take_up(&serde_json::from_str(&text).unwrap());
        assert_eq!(later.wishes(), document.wishes());
        assert_eq!(later.rack(), document.rack());
        assert_eq!(later.log().own_settings().map(<[_]>::len), document.log().own_settings().map(<[_]>::len));
        assert!(later.undo_step().is_none(), "no step that could be undone");
        assert!(!later.unsaved());
    }

    #[test]
    fn what_does_not_go_with_the_yard_is_left_out() {
        let document = Document::demo().unwrap();
        let mut wishes = document.wishes();
        wishes.log.width_mm = -4.0;
        wishes.rack.wood = Some("No such wood".to_owned());
        wishes.rack.limits = vec![(f64::NAN, true)];
        let mut later = Document::demo().unwrap();
        later.take_up(&wishes);
        assert_eq!(later.log(), document.log());
        assert_eq!(later.rack().wood(), None);
        assert!(later.rack().limit(LIMITS[0]).is_some_and(|(limit, _)| limit.bound.is_finite()));
    }
}

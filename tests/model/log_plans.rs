//! Plans against a plain search on a coarse grid, over logs, saws and people thrown at random but the same in every run.
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::cast_precision_loss,
    reason = "helpers of tests, outside a test function"
)]

use super::coarse::{self, Tried};
use barpoise_core::log::{
    CuttingBar, Help, LogJob, LogSection, Plan, Stand, SwingLimits, Tangle, Workplace, cutting_bar, help,
    plan, saw_body,
};
use barpoise_core::person::{Person, Survey};
use barpoise_core::units::{Angle, Length};
use barpoise_core::{file, solve};

/// Logs looked at.
const LOGS: usize = 40;

/// Numbers from 0 to 1 that look random and are the same in every run.
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

struct Case {
    job: LogJob,
    bar: CuttingBar,
    workplace: Workplace,
    plan: Plan,
}

fn cases() -> Vec<Case> {
    let yard = file::demo().unwrap();
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    (0..LOGS)
        .map(|i| {
            let setup = &yard.setups()[i % yard.setups().len()];
            let bar = cutting_bar(setup).unwrap();
            let width = bar.reach() * dice.between(0.15, 1.9);
            let height = if i % 4 == 3 { width * dice.between(0.8, 1.25) } else { width };
            let m = Length::from_m;
            let section = LogSection::oval(width, height, m(dice.between(0.0, 0.8))).unwrap();
            let survey = [Survey::Men, Survey::Women][i / 2 % 2];
            let slope = Angle::from_deg(if i % 5 == 0 { dice.between(-10.0, 10.0) } else { 0.0 });
            let person = Person::new(m(dice.between(1.5, 1.95)), survey).unwrap();
            let person = person.with_kneeling(i % 5 != 4).with_slope(slope).unwrap();
            let job = LogJob::new(section, [Stand::OneSide, Stand::BothSides][i % 2])
                .with_tangle([Tangle::None, Tangle::Far, Tangle::Near][i % 3])
                .with_person(person);
            let workplace = Workplace::new(&job, &saw_body(setup, &solve(setup)));
            let plan = plan(&job, &bar, &workplace);
            Case { job, bar, workplace, plan }
        })
        .collect()
}

#[test]
fn a_coarse_search_finds_nothing_whole_where_none_is_offered_and_seldom_anything_better() {
    let mut better = Vec::new();
    for case in cases() {
        let Case { job, bar, workplace, plan } = &case;
        let offered = plan.is_whole().then(|| coarse::cost(job, bar, &plan.settings));
        match coarse::better_than(job, bar, workplace, offered) {
            Tried::NothingBetter => {}
            Tried::GaveUp => panic!("too many sets to try: {job:?}"),
            Tried::Better(cost, settings) => {
                let Some(offered) = offered else {
                    panic!("none is offered, and this does: {settings:?} {job:?}")
                };
                // A plan is not the best there is, and does not say so; it is no more than a step of hidden way, or a
                // setting, from the best of the grid.
                assert!(settings.iter().all(|s| workplace.can_do(job, bar, s)), "{settings:?}");
                assert!(
                    offered.1 - cost.1 <= 1 && offered.2 <= cost.2 + 1,
                    "{offered:?} {cost:?} {settings:?}"
                );
                assert!(!plan.proven_fewest || cost.2 >= offered.2, "{settings:?}");
                better.push((offered, cost));
            }
        }
    }
    // Of 210 logs 13 had something better on the grid: twelve by one step of hidden way, one by a setting.
    assert!(better.len() * 7 <= LOGS, "{better:?}");
}

/// What helps where a plan leaves wood, as short as it can be said.
fn helps(help: &Help) -> String {
    let mut said = Vec::new();
    if help.other_side {
        said.push("other side".to_owned());
    }
    said.extend(help.raise_to.map(|to| format!("raise to {:.0} mm", to.as_mm())));
    if help.roll {
        said.push("roll".to_owned());
    }
    said.extend(help.longer_reach.map(|to| format!("reach {:.0} mm", to.as_mm())));
    if said.is_empty() { "nothing tried".to_owned() } else { said.join(", ") }
}

/// The four bars of the big head before logs of 0.6, 1.0, 1.3 and 1.9 of their reach, lying, low and high, from one side
/// and from both. Tried from outside on an earlier program, all 96 plans offered first could not be stood to, and for 52 of
/// them one that can be done exists.
#[test]
fn of_96_cuts_each_plan_can_be_stood_to_at_every_degree_and_what_is_left_is_said() {
    let yard = file::demo().unwrap();
    let (mut whole, mut rows) = (0, Vec::new());
    for name in ["Bittern B14", "Bittern B18", "Bittern B24", "Bittern B30"] {
        let setup = yard.setup(name).unwrap();
        let (bar, saw) = (cutting_bar(setup).unwrap(), saw_body(setup, &solve(setup)));
        for share in [0.6, 1.0, 1.3, 1.9] {
            for clearance in [0.0, 150.0, 400.0] {
                for stand in [Stand::OneSide, Stand::BothSides] {
                    let section = LogSection::round(bar.reach() * share, Length::from_mm(clearance)).unwrap();
                    let job = LogJob::new(section, stand);
                    let workplace = Workplace::new(&job, &saw);
                    let plan = plan(&job, &bar, &workplace);
                    let what = format!("{name}, {share} of the reach, {clearance} mm up, {stand:?}");
                    for setting in &plan.settings {
                        assert!(workplace.can_do(&job, &bar, setting), "{what}: {setting:?}");
                        assert!(workplace.trouble(&job, &bar, setting).is_none(), "{what}: {setting:?}");
                    }
                    whole += usize::from(plan.is_whole());
                    let help = help(&job, &bar, &saw, &plan.settings);
                    assert!(!plan.is_whole() || help.is_none(), "{what}");
                    rows.push(format!(
                        "{what}: {} settings, {:.1} %{}",
                        plan.settings.len(),
                        100.0 * plan.cover.covered_fraction,
                        if plan.is_whole() { String::new() } else { format!("; helps: {}", helps(&help)) }
                    ));
                }
            }
        }
    }
    println!("{}\n{whole} of {} whole", rows.join("\n"), rows.len());
    assert_eq!(rows.len(), 96);
    assert!(whole >= 52, "{whole}");
}

/// Two ovals for which an earlier plan took more settings, or cut less, than was possible.
#[test]
fn ovals_with_tight_limits_take_few_settings_and_are_cut_whole() {
    let mm = Length::from_mm;
    let swing = SwingLimits::new(Angle::from_deg(50.0), Angle::from_deg(50.0)).unwrap();
    // Width and height, reach; how few settings do it, or how much of it can be cut with six.
    for (width, height, reach, fewest, most) in
        [(451.0, 694.0, 393.0, 2, 1.0), (758.0, 1224.0, 452.0, 6, 0.962)]
    {
        let bar = CuttingBar::new(mm(reach), mm(45.0), mm(36.0)).unwrap();
        let section = LogSection::oval(mm(width), mm(height), mm(400.0)).unwrap();
        let job = LogJob::new(section, Stand::OneSide).with_swing(swing);
        let plan = plan(&job, &bar, &Workplace::free());
        assert!(plan.settings.len() <= fewest, "{plan:?}");
        assert!(plan.cover.covered_fraction >= most, "{plan:?}");
    }
}

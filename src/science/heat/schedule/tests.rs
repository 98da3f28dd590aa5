use super::super::mash::DryGrist;
use super::*;
use crate::quantity::{in_litres, kilograms, litres, minutes};
use uom::si::energy::kilojoule;
use uom::si::f64::SpecificHeatCapacity;
use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value).unwrap()
}

/// 5 kg of grist at 0.4 of water's heat and 20 °C, boiling at 100 °C.
fn mash(water_kg: f64, rests: &[(f64, Raise)], capacity_l: Option<f64>) -> MashSchedule {
    let grist = DryGrist {
        mass: kilograms(5.0),
        temperature: celsius(20.0),
        specific_heat: SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(
            0.4 * WATER_KJ_PER_KG_K,
        ),
    };
    let rests: Vec<_> = rests
        .iter()
        .map(|(c, by)| MashRest {
            temperature: celsius(*c),
            time: minutes(20.0),
            by: *by,
        })
        .collect();
    let plant = MashPlant {
        boiling: celsius(100.0),
        capacity: capacity_l.map(litres),
    };
    let mash = MashIn {
        grist,
        water: kilograms(water_kg),
        tun: None,
    };
    mash_schedule(&mash, &rests, &plant).unwrap()
}

#[test]
fn three_rests_by_infusion_use_the_water_up_and_keep_the_heat() {
    let rests = [
        (52.0, Raise::None),
        (64.0, Raise::Infusion),
        (72.0, Raise::Infusion),
    ];
    let schedule = mash(24.0, &rests, None);
    assert_eq!(schedule.stopped, None);
    let water: Vec<_> = schedule
        .steps
        .iter()
        .map(|step| match step.work {
            StepWork::MashIn { water, .. } | StepWork::Infuse { water, .. } => in_kilograms(water),
            _ => 0.0,
        })
        .collect();
    // By hand: 26 · 28/36 = 20.2222 before the second infusion, · 36/48 = 15.1667 before the first.
    for (ours, by_hand) in water.iter().zip([13.1667, 5.0556, 5.7778]) {
        assert!((ours - by_hand).abs() < 5e-5, "{water:?}");
    }
    assert!((water.iter().sum::<f64>() - 24.0).abs() < 1e-9);
    // Everything mixed at once comes to the last rest.
    let StepWork::MashIn { at, .. } = schedule.steps[0].work else {
        panic!("no mashing in");
    };
    let heat = 2.0 * 20.0 + water[0] * at.celsius() + (water[1] + water[2]) * 100.0;
    assert!((heat / 26.0 - 72.0).abs() < 1e-9);
}

#[test]
fn heat_and_decoction_leave_the_water_as_it_is() {
    let rests = [
        (52.0, Raise::None),
        (64.0, Raise::Decoction),
        (76.0, Raise::Direct),
        (76.0, Raise::None),
        (70.0, Raise::None),
    ];
    let schedule = mash(15.0, &rests, None);
    assert_eq!(schedule.stopped, None);
    let works: Vec<_> = schedule.steps.iter().map(|step| step.work).collect();
    // University formula sheet: 12/48 of the mash. Heat by hand: 17 · 4.186 · 12.
    assert!(
        matches!(works[1], StepWork::Decoct { share } if (share.fraction() - 0.25).abs() < 1e-12)
    );
    assert!(matches!(works[2], StepWork::Heat { energy }
        if (energy.get::<kilojoule>() - 853.944).abs() < 1e-9));
    assert_eq!(works[3..], [StepWork::Nothing, StepWork::LetCool]);
    assert_eq!(schedule.steps[4].water, kilograms(15.0));
}

#[test]
fn what_a_plant_cannot_do_is_said() {
    let stop = |water, rests: &[(f64, Raise)], room| mash(water, rests, room).stopped;
    let two = |by| [(52.0, Raise::None), (66.0, by)];
    assert_eq!(
        stop(15.0, &two(Raise::None), None),
        Some(MashStop::NoHeating { rest: 2 })
    );
    let hot = [(66.0, Raise::None), (100.0, Raise::Infusion)];
    assert_eq!(
        stop(15.0, &hot, None),
        Some(MashStop::WaterTooCool { rest: 2 })
    );
    // By hand: (2 + 12) · 34/48 - 2 = 7.917, 1.583 L/kg; enough is 12 · 48/34 - 2.
    let Some(MashStop::TooThick { left, enough }) = stop(12.0, &two(Raise::Infusion), None) else {
        panic!("a mash of 1.6 L/kg was called stirrable");
    };
    assert!((left.litres_per_kilogram() - 1.5833).abs() < 5e-5);
    assert!((in_kilograms(enough) - 14.9412).abs() < 5e-5);
    assert_eq!(stop(14.95, &two(Raise::Infusion), None), None);
    // Enough is enough for a stirrable mash, also where there is less water than that to begin with: by hand as above.
    let Some(MashStop::TooThick { enough, .. }) = stop(8.0, &two(Raise::Infusion), None) else {
        panic!("a mash of 1 L/kg was called stirrable");
    };
    assert!((in_kilograms(enough) - 14.9412).abs() < 5e-5);
    assert!(matches!(
        stop(2.0, &[(66.0, Raise::None)], None),
        Some(MashStop::StrikeTooHot { needed: Some(_) })
    ));
    // 15 kg at 66 °C take 15.30 L, and 5 kg of grain 3.35 L.
    let Some(MashStop::VesselFull {
        rest: 1, needed, ..
    }) = stop(15.0, &[(66.0, Raise::None)], Some(18.0))
    else {
        panic!("a full vessel was missed");
    };
    assert!((in_litres(needed) - 18.65).abs() < 0.01);
    assert!(mash(15.0, &[], None).steps.is_empty());
}

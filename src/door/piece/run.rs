//! The run at the saw: set-ups and steps over the boards that were planned.

use crate::write::{number, style};
use crate::write_saw::{position, remedy_kind};
use offsquare_cuts::parts::{End, Side};
use offsquare_cuts::saw::{SawProfile, wording};
use offsquare_units::{Angle, DoorUnit};
use offsquare_work::run::{
    Bench, Cutting, Finish, Kind, SetUp, Single, Step, StickPlan, Stop, WayOut, Work, run,
};
use serde_json::{Map, Value, json};

/// The whole run over the plans of sticks.
pub fn run_value(plans: &[StickPlan], saw: &SawProfile, unit: DoorUnit) -> Value {
    let run = run(plans, saw, unit);
    let steps = run.steps.iter().map(|step| match step {
        Step::Cut(cut) => write_cut(cut, plans, unit),
        Step::Bench(bench) => write_bench(bench, plans),
    });
    let alike = plans.iter().zip(run.alike);
    let alike: Map<String, Value> =
        alike.map(|(plan, groups)| (plan.stock.clone(), groups.into())).collect();
    json!({
        "set_ups": run.set_ups.iter().map(set_up).collect::<Value>(),
        "steps": steps.collect::<Value>(),
        "alike": alike,
    })
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Neither => "none",
        side => wording::side(side),
    }
}

fn set_up(s: &SetUp) -> Value {
    let shown = |a: Option<Angle>| a.map_or(Value::Null, |a| number(a.0));
    let stop = |s: Stop| json!({"at": number(s.at), "side": side(s.side)});
    let mut out = json!({
        "mitre_deg": number(s.setting.miter),
        "swing": side(s.setting.swing),
        "bevel_deg": number(s.setting.bevel),
        "lean": side(s.setting.lean),
        "shown": {"mitre_deg": shown(s.shown.miter), "bevel_deg": shown(s.shown.bevel)},
        "stop": s.stop.map_or(Value::Null, stop),
    });
    if let Some(way_out) = &s.way_out {
        out["remedy"] = match way_out {
            WayOut::OtherFace => "other_face",
            WayOut::Laid(laid) => position(*laid),
            WayOut::Remedy(remedy) => remedy_kind(remedy),
        }
        .into();
    }
    out
}

fn single(s: &Single) -> Value {
    json!({"part": s.part, "nth": s.nth})
}

fn write_cut(c: &Cutting, plans: &[StickPlan], unit: DoorUnit) -> Value {
    let finish = |f: &Finish| {
        let end = if f.end == End::Left { "left" } else { "right" };
        json!({"part": f.of.part, "nth": f.of.nth, "end": end})
    };
    json!({
        "set_up": c.set_up,
        "kind": match c.kind { Kind::Trim => "trim", Kind::Crosscut => "crosscut" },
        "stock": plans.get(c.stock).map_or("", |p| p.stock.as_str()),
        "board": c.board,
        "flipped": c.flipped,
        "x_near": number(c.near),
        "x_far": number(c.far),
        "waste_side": side(c.waste),
        "finishes": c.finishes.iter().map(finish).collect::<Value>(),
        "frees": c.frees.iter().map(single).collect::<Value>(),
        "held_side": side(c.held_side),
        "held": number(c.held),
        "cautions": c.cautions.iter().map(|t| Value::from(t.render(&style(unit)))).collect::<Value>(),
    })
}

fn write_bench(b: &Bench, plans: &[StickPlan]) -> Value {
    json!({
        "set_up": Value::Null,
        "kind": "bench",
        "stock": plans.get(b.stock).map_or("", |p| p.stock.as_str()),
        "board": b.board,
        "part": b.single.part,
        "nth": b.single.nth,
        "what": match b.what {
            Work::SecondCut => "second_cut",
            Work::Clip => "clip",
            Work::Mark => "mark",
            Work::Shoulder => "shoulder",
            Work::Housing => "housing",
            Work::Drill => "drill",
        },
        "of": b.of,
        "finishes": [],
        "frees": [],
        "cautions": [],
    })
}

//! The slowest of 100,000 random requests and links over every form of every layout.
//!
//! `cargo bench -p offsquare-tests --bench requests`: each request asks for the saw's advice and *if it's
//! off* too, one in eight works a size back; each link is read and answered as the page does at its
//! start, and its card is opened. A number as argument asks so many instead.

use offsquare_cuts::backwards::{Steps, advise, if_off};
use offsquare_cuts::layouts;
use offsquare_door::solve_within;
use offsquare_tests::dice::{Dice, link};
use offsquare_units::Unit;
use offsquare_work::piece::{Shop, answer, from_link};
use serde_json::{Value, json};
use std::time::Instant;

struct Asked {
    ms: f64,
    steps: u32,
    ran_out: bool,
    what: String,
}

fn main() {
    let count = std::env::args().find_map(|a| a.parse().ok()).unwrap_or(100_000);
    let mut dice = Dice(17);
    let mut all: Vec<Asked> = (0..count).map(|n| one(n, &mut dice)).collect();
    all.sort_by(|a, b| b.ms.total_cmp(&a.ms));
    for a in all.iter().take(12) {
        println!("{:>8.1} ms {:>7} steps  {}", a.ms, a.steps, a.what);
    }
    let over = all.iter().filter(|a| a.ms > 40.0).count();
    let spent = all.iter().filter(|a| a.ran_out).count();
    let most = all.iter().map(|a| a.steps).max().unwrap_or(0);
    println!(
        "{count} requests and links: the slowest takes {:.1} ms (the limit is 40; {over} over it), half of \
         them less than {:.2} ms; at most {most} steps; {spent} past their budget",
        all[0].ms,
        all[all.len() / 2].ms
    );
}

fn one(n: usize, dice: &mut Dice) -> Asked {
    let (layout, form) = Dice::form(n);
    let inputs = dice.anything(form);
    if dice.one_in(2) {
        let link = link(layout.id(), form.id, &inputs);
        return linked(&link);
    }
    let mut request = json!({
        "id": n, "layout": layout.id(), "form": form.id, "unit": "in", "inputs": inputs, "saw": {}, "off": true,
    });
    if dice.one_in(8)
        && let Some(target) = target(layout, form, dice)
    {
        request["work_back"] = target;
    }
    let what = request.to_string();
    let steps = Steps::default();
    let start = Clock::start();
    std::hint::black_box(solve_within(&request, &steps));
    Asked { ms: start.ms(), steps: steps.spent(), ran_out: steps.ran_out(), what }
}

/// The time that this thread itself took: on Linux, where it is more than the scheduler's tick, without
/// what the machine did beside.
struct Clock(Instant, Option<f64>);

impl Clock {
    fn start() -> Clock {
        Clock(Instant::now(), Clock::on_cpu())
    }
    /// Milliseconds that the thread ran so far.
    fn on_cpu() -> Option<f64> {
        let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
        text.split_whitespace().next()?.parse::<f64>().ok().map(|ns| ns / 1e6)
    }
    fn ms(&self) -> f64 {
        let wall = self.0.elapsed().as_secs_f64() * 1e3;
        match (self.1, Clock::on_cpu()) {
            (Some(from), Some(to)) if wall > 8.0 => wall.min(to - from),
            _ => wall,
        }
    }
}

fn linked(link: &str) -> Asked {
    let shop = Shop::default();
    let start = Clock::start();
    let mut asked = Asked { ms: 0.0, steps: 0, ran_out: false, what: String::new() };
    if let Some(draft) = from_link(link, Unit::Inch) {
        let answered = answer(&draft, &shop);
        asked.ms = start.ms();
        asked.steps = answered.steps;
        // The card is opened by a tap of its own.
        if let (Some(solved), Some(layout)) = (answered.solved.first(), draft.layout()) {
            let (start, steps) = (Clock::start(), Steps::default());
            std::hint::black_box(advise(layout, solved, &shop.saw, &steps));
            std::hint::black_box(if_off(layout, solved, false, &steps));
            asked.ms = asked.ms.max(start.ms());
            asked.steps = asked.steps.max(steps.spent());
            asked.ran_out = steps.ran_out();
        }
    }
    asked.what = link.to_owned();
    asked
}

/// A headline answer of the form's start, somewhat more or less, by a size that can give.
fn target(
    layout: &'static dyn layouts::Layout,
    form: &'static layouts::Form,
    dice: &mut Dice,
) -> Option<Value> {
    let start = form.start_inputs(false);
    let solution = layout.solve(&start, layouts::Detail::Answers).solutions.into_iter().next()?;
    let answer = *solution.headline.get(dice.below(solution.headline.len()))?;
    let now = solution.answers.quantity(answer)?.number();
    let give = *form.gives.get(dice.below(form.gives.len()))?;
    Some(json!({"give": give, "answer": answer, "target": now * (0.5 + dice.share())}))
}

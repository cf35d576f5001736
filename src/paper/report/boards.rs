//! What to buy and how it is cut, as text to send on or to keep.

use offsquare_units::num::Gather;
use offsquare_units::{Length, Text, say};
use offsquare_work::cutlist::{
    Job, Jobs, Lying, OrderLine, ShownPlan, Summary, blank_lines, order_lines, rip_steps,
    trim_sentence, yard_length,
};
use offsquare_work::piece::{Shop, Work};

/// Stock by stock what to buy, the boards with their parts, and the order of cuts as the screen tells it: boards cut alike
/// once.
pub fn boards_text(work: &Work, shop: &Shop, jobs: &Jobs, summary: &Summary) -> String {
    let style = shop.style();
    let mut out: Vec<String> = Vec::new();
    for shown in &summary.shown {
        let Some(job) = jobs.jobs.get(shown.job) else { continue };
        out.push(job.name.clone());
        out.extend(bought(work, job, shown, shop));
        out.extend(shown.lying.iter().map(|l| board(work, job, l, shop)));
        let mut told: Vec<Text> = work.to_mind(&job.parts, job.is_ripped(), shop);
        told.extend(cuts(work, job, shown, shop));
        out.extend(told.iter().map(|t| t.render(&style)));
        out.push(String::new());
    }
    if !summary.unknown {
        out.push(format!("All boards: {}", work.currency().print(summary.money)));
    }
    out.extend(trim_sentence(jobs, &work.rack).map(|t| t.render(&style)));
    out.join("\n").trim_end().to_owned()
}

/// A board by its length, a sheet by its width too.
fn measures(job: &Job, length: Length, width: Length, shop: &Shop) -> String {
    match job.is_sheet() {
        true => say!("{} by {}", width, length).render(&shop.style()),
        false => yard_length(length, &shop.style()),
    }
}

/// "Buy 2 × 8 ft at $4.19: $8.38".
fn bought(work: &Work, job: &Job, shown: &ShownPlan, shop: &Shop) -> Vec<String> {
    let width = work.rack.stock(job.stock).map(|s| s.width).unwrap_or_default();
    let currency = work.currency();
    let buy = shown.buy.iter().map(|b| {
        let what = format!("Buy {} \u{d7} {}", b.count, measures(job, b.length, width, shop));
        match (b.each, b.sum) {
            (Some(each), Some(sum)) => {
                format!("{what} at {}: {}", currency.print(each), currency.print(sum))
            }
            _ => format!("{what}, no price yet"),
        }
    });
    let owned = (shown.owned > 0).then(|| format!("From the rack: {}", shown.owned));
    buy.chain(owned).gather()
}

/// "2 boards alike, 1 and 2, 10 ft: Cap side 31 in, 2 × Gate slat 41 1/2 in", parts as they follow each other.
fn board(work: &Work, job: &Job, lying: &Lying, shop: &Shop) -> String {
    let mut parts: Vec<(String, usize)> = Vec::new();
    for place in &lying.cut.parts {
        let entry = job.parts.get(place.part).and_then(|p| work.part(p.entry));
        let Some(entry) = entry else { continue };
        let name = say!("{} {}", entry.called(), entry.cut_length()).render(&shop.style());
        match parts.last_mut().filter(|last| last.0 == name) {
            Some(last) => last.1 += 1,
            None => parts.push((name, 1)),
        }
    }
    let one = |(name, n): (String, usize)| match n {
        1 => name,
        n => format!("{n} \u{d7} {name}"),
    };
    let all: Vec<String> = parts.into_iter().map(one).gather();
    let kind = if job.is_sheet() { "sheet" } else { "board" };
    let size = measures(job, lying.board.length, lying.board.width, shop);
    let from = if lying.board.is_owned() { ", from the rack" } else { "" };
    format!("{}, {size}{from}: {}", lying.called(kind), all.join(", "))
}

fn cuts(work: &Work, job: &Job, shown: &ShownPlan, shop: &Shop) -> Vec<Text> {
    let text = |line: OrderLine| match line {
        OrderLine::Saw(t) | OrderLine::Stop(t) | OrderLine::Cut(t) => t,
    };
    if !job.is_ripped() {
        return order_lines(job, shown, &work.parts, &shop.saw).into_iter().map(text).gather();
    }
    let mut out = Vec::new();
    for lying in &shown.lying {
        out.push(say!(format!(
            "{}:",
            lying.called(if job.is_sheet() { "sheet" } else { "board" })
        )));
        out.extend(rip_steps(job, &lying.cut, &work.parts).into_iter().map(|s| s.words));
    }
    out.extend(blank_lines(job, &shown.lying, &work.parts, &shop.saw).into_iter().map(text));
    out
}

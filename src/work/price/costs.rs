//! What a batch costs.

use super::exact::{Exact, over, upward, whole};
use num_bigint::BigInt;
use num_traits::Zero;

/// What materials are counted at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Basis {
    /// What went into the pieces.
    #[default]
    Used,
    /// What was paid for boards, packs and cans.
    Bought,
}

/// Wood of the whole batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Wood {
    pub bought: Exact,
    /// What leftovers are worth that are kept.
    pub kept: Exact,
}

/// Hardware that comes by the pack.
#[derive(Clone, Debug, PartialEq)]
pub struct Hardware {
    pub per_piece: Exact,
    /// How many are in a pack, more than 0.
    pub pack: Exact,
    pub pack_price: Exact,
}

/// Finish that comes by the can.
#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    pub coats: Exact,
    /// Square meters that one can covers once, more than 0.
    pub covers: Exact,
    pub can_price: Exact,
    /// Square meters of a piece; none where they are not known.
    pub area: Option<Exact>,
}

/// A step of the work, in minutes.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub set_up: Exact,
    pub each: Exact,
}

/// What the shop costs besides.
#[derive(Clone, Debug, PartialEq)]
pub enum Overhead {
    /// A share of materials and labor.
    Share(Exact),
    /// So much an hour.
    PerHour(Exact),
}

/// Everything that a batch is made of. A list that is none was not given.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Batch {
    /// Pieces made at once, 1 or more.
    pub pieces: u64,
    /// Pieces in one sale.
    pub sold_as: u64,
    pub basis: Basis,
    /// Wood was asked for; none inside where no plan was found.
    pub wood: Option<Option<Wood>>,
    pub hardware: Option<Vec<Hardware>>,
    pub finish: Option<Vec<Finish>>,
    pub steps: Option<Vec<Step>>,
    pub rate: Option<Exact>,
    pub overhead: Option<Overhead>,
}

/// What comes out; none where inputs are missing.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Costs {
    pub wood_bought: Option<Exact>,
    pub wood_used: Option<Exact>,
    pub hardware_bought: Option<Exact>,
    pub hardware_used: Option<Exact>,
    /// Packs to buy, in the order given.
    pub packs: Option<Vec<BigInt>>,
    pub finish_bought: Option<Exact>,
    pub finish_used: Option<Exact>,
    pub cans: Option<Vec<BigInt>>,
    pub minutes: Option<Exact>,
    pub labor: Option<Exact>,
    pub overhead: Option<Exact>,
    /// Materials at the chosen basis.
    pub materials: Option<Exact>,
    pub cost: Option<Exact>,
    pub each: Option<Exact>,
    pub sale: Option<Exact>,
}

/// Whole packages for so much of each, what they cost, and what of that is used.
fn packaged(needs: &[(Exact, &Exact, &Exact)]) -> (Vec<BigInt>, Exact, Exact) {
    let (mut packs, mut bought, mut used) = (Vec::new(), Exact::zero(), Exact::zero());
    for (need, holds, price) in needs {
        let shares = need / *holds;
        let n = upward(&shares);
        bought += Exact::from_integer(n.clone()) * *price;
        used += shares * *price;
        packs.push(n);
    }
    (packs, bought, used)
}

/// Works a batch out.
///
/// Example: 9 hooks a piece in packs of 12 at 4.50, two pieces: 18 hooks, 2 packs, 9.00 bought, 6.75 used.
///
/// ```
/// use offsquare_work::price::{Batch, Hardware, costs, whole};
/// let hooks = Hardware { per_piece: whole(9), pack: whole(12), pack_price: whole(450) };
/// let batch = Batch { pieces: 2, sold_as: 1, hardware: Some(vec![hooks]), ..Batch::default() };
/// let costs = costs(&batch);
/// assert_eq!((costs.hardware_bought, costs.hardware_used), (Some(whole(900)), Some(whole(675))));
/// ```
pub fn costs(batch: &Batch) -> Costs {
    let n = whole(batch.pieces);
    let mut out = Costs::default();
    let wood = batch.wood.as_ref();
    out.wood_bought = wood.and_then(|w| w.as_ref()).map(|w| w.bought.clone());
    out.wood_used = wood.and_then(|w| w.as_ref()).map(|w| &w.bought - &w.kept);
    if let Some(hardware) = &batch.hardware {
        let needs: Vec<_> =
            hardware.iter().map(|h| (&n * &h.per_piece, &h.pack, &h.pack_price)).collect();
        let (packs, bought, used) = packaged(&needs);
        (out.packs, out.hardware_bought, out.hardware_used) =
            (Some(packs), Some(bought), Some(used));
    }
    if let Some(finish) = &batch.finish {
        let needs: Option<Vec<_>> = finish
            .iter()
            .map(|f| Some((&n * f.area.as_ref()? * &f.coats, &f.covers, &f.can_price)))
            .collect();
        if let Some(needs) = needs {
            let (cans, bought, used) = packaged(&needs);
            (out.cans, out.finish_bought, out.finish_used) = (Some(cans), Some(bought), Some(used));
        }
    }
    if let Some(steps) = &batch.steps {
        out.minutes = Some(steps.iter().map(|s| &s.set_up + &n * &s.each).sum());
    }
    let hours = out.minutes.as_ref().map(|m| m / whole(60));
    out.labor = hours.as_ref().zip(batch.rate.as_ref()).map(|(h, rate)| h * rate);

    // What was not asked for costs nothing; what was asked for and is not known leaves the sum open.
    let counted = |asked: bool, known: &Option<Exact>| {
        if asked { known.clone() } else { Some(Exact::zero()) }
    };
    let by_basis = |bought, used| if batch.basis == Basis::Bought { bought } else { used };
    out.materials = counted(wood.is_some(), by_basis(&out.wood_bought, &out.wood_used))
        .zip(counted(batch.hardware.is_some(), by_basis(&out.hardware_bought, &out.hardware_used)))
        .zip(counted(batch.finish.is_some(), by_basis(&out.finish_bought, &out.finish_used)))
        .map(|((wood, hardware), finish)| wood + hardware + finish);
    let labor = counted(batch.steps.is_some(), &out.labor);
    let made = out.materials.clone().zip(labor).map(|(materials, labor)| materials + labor);
    out.overhead = match &batch.overhead {
        Some(Overhead::Share(share)) => made.clone().map(|made| made * share),
        Some(Overhead::PerHour(rate)) => hours.map(|h| h * rate),
        None => None,
    };
    let overhead = counted(batch.overhead.is_some(), &out.overhead);
    out.cost = made.zip(overhead).map(|(made, overhead)| made + overhead);
    out.each = out.cost.clone().and_then(|cost| over(cost, &n));
    out.sale = out.each.clone().map(|each| each * whole(batch.sold_as));
    out
}

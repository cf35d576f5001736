//! What a batch costs.

use super::exact::{Exact, over, whole};
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{One, Zero};

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

/// Hardware that comes by the pack. What is none is not known yet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hardware {
    pub per_piece: Option<Exact>,
    /// How many are in a pack, more than 0.
    pub pack: Option<Exact>,
    pub pack_price: Option<Exact>,
    /// Left of an opened pack: used first, and not bought anew.
    pub opened: Option<Exact>,
}

/// Finish that comes by the can. What is none is not known yet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Finish {
    pub coats: Option<Exact>,
    /// Square meters that one can covers once, more than 0.
    pub covers: Option<Exact>,
    pub can_price: Option<Exact>,
    /// Square meters of a piece.
    pub area: Option<Exact>,
    /// Left in an opened can, as a share of a can.
    pub opened: Option<Exact>,
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

/// One kind of package: how much of one a piece uses up, and how much of one is there already, both of the same
/// denominator.
struct Package {
    share: BigInt,
    opened: BigInt,
    of: BigInt,
}

impl Package {
    fn new(share: Exact, opened: Option<Exact>) -> Package {
        let opened = opened.unwrap_or_else(Exact::zero);
        let (share, opened) = (share.into_raw(), opened.into_raw());
        Package { share: share.0 * &opened.1, opened: opened.0 * &share.1, of: share.1 * opened.1 }
    }

    /// Whole ones to buy for so many pieces.
    fn bought(&self, n: u64) -> BigInt {
        (&self.share * n - &self.opened).div_ceil(&self.of).max(BigInt::zero())
    }
}

/// Packages of one list, for one piece.
struct Packages {
    all: Option<Vec<Package>>,
    /// What each costs, all of the same denominator.
    prices: Option<(Vec<BigInt>, BigInt)>,
    /// What a piece uses up of all.
    used: Option<Exact>,
}

impl Packages {
    /// Of each kind: how much of one a piece uses up, how much of one is there already, what one costs.
    fn of(all: Vec<[Option<Exact>; 3]>) -> Packages {
        let used =
            all.iter().map(|[share, _, price]| Some(share.as_ref()? * price.as_ref()?)).sum();
        let prices: Option<Vec<Exact>> = all.iter().map(|[.., price]| price.clone()).collect();
        let prices = prices.map(|all| {
            let of = all.iter().fold(BigInt::one(), |of, price| of.lcm(price.denom()));
            (all.iter().map(|price| price.numer() * (&of / price.denom())).collect(), of)
        });
        let kind = |[share, opened, _]: [Option<Exact>; 3]| Some(Package::new(share?, opened));
        Packages { all: all.into_iter().map(kind).collect(), prices, used }
    }

    /// Whole packages to buy, what they cost, and what of that is used. None where something of it is not known.
    fn bought(&self, n: u64) -> (Option<Vec<BigInt>>, Option<Exact>, Option<Exact>) {
        let packs = self.all.as_ref();
        let packs: Option<Vec<BigInt>> = packs.map(|all| all.iter().map(|p| p.bought(n)).collect());
        let cost = packs.as_ref().zip(self.prices.as_ref()).map(|(packs, (prices, of))| {
            let sum = packs.iter().zip(prices).map(|(packs, price)| packs * price).sum();
            Exact::new(sum, of.clone())
        });
        (packs, cost, self.used.as_ref().map(|used| whole(n) * used))
    }
}

/// A batch with its sums made for one piece, from which every number of pieces follows.
pub struct PerPiece<'b> {
    batch: &'b Batch,
    hardware: Option<Packages>,
    finish: Option<Packages>,
    /// Minutes before the first piece, and for each.
    minutes: Option<(Exact, Exact)>,
}

impl PerPiece<'_> {
    pub fn of(batch: &Batch) -> PerPiece<'_> {
        fn pack(h: &Hardware) -> [Option<Exact>; 3] {
            let of_pack = |n: &Option<Exact>| over(n.clone()?, h.pack.as_ref()?);
            [of_pack(&h.per_piece), of_pack(&h.opened), h.pack_price.clone()]
        }
        fn can(f: &Finish) -> [Option<Exact>; 3] {
            let painted = f.area.as_ref().zip(f.coats.as_ref()).map(|(area, coats)| area * coats);
            let share = painted.and_then(|painted| over(painted, f.covers.as_ref()?));
            [share, f.opened.clone(), f.can_price.clone()]
        }
        let hardware = batch.hardware.as_ref();
        let hardware = hardware.map(|all| Packages::of(all.iter().map(pack).collect()));
        let finish = batch.finish.as_ref();
        let finish = finish.map(|all| Packages::of(all.iter().map(can).collect()));
        let minutes = batch.steps.as_ref().map(|steps| {
            (steps.iter().map(|s| &s.set_up).sum(), steps.iter().map(|s| &s.each).sum())
        });
        PerPiece { batch, hardware, finish, minutes }
    }

    /// The costs of so many pieces, of this wood.
    pub fn costs(&self, pieces: u64, wood: Option<&Option<Wood>>) -> Costs {
        let (batch, n) = (self.batch, whole(pieces));
        let known = wood.and_then(Option::as_ref);
        let mut out = Costs {
            wood_bought: known.map(|w| w.bought.clone()),
            wood_used: known.map(|w| &w.bought - &w.kept),
            ..Costs::default()
        };
        if let Some(hardware) = &self.hardware {
            (out.packs, out.hardware_bought, out.hardware_used) = hardware.bought(pieces);
        }
        if let Some(finish) = &self.finish {
            (out.cans, out.finish_bought, out.finish_used) = finish.bought(pieces);
        }
        out.minutes = self.minutes.as_ref().map(|(set_up, each)| set_up + &n * each);
        let hours = out.minutes.as_ref().map(|m| m / whole(60));
        out.labor = hours.as_ref().zip(batch.rate.as_ref()).map(|(h, rate)| h * rate);

        // What was not asked for costs nothing; what was asked for and is not known leaves the sum open, and so
        // does a batch of which nothing was said.
        let said = wood.is_some()
            || batch.hardware.is_some()
            || batch.finish.is_some()
            || batch.steps.is_some();
        let counted = |asked: bool, known: &Option<Exact>| {
            if asked { known.clone() } else { Some(Exact::zero()) }
        };
        let by_basis = |bought, used| if batch.basis == Basis::Bought { bought } else { used };
        out.materials = counted(wood.is_some(), by_basis(&out.wood_bought, &out.wood_used))
            .zip(counted(
                batch.hardware.is_some(),
                by_basis(&out.hardware_bought, &out.hardware_used),
            ))
            .zip(counted(batch.finish.is_some(), by_basis(&out.finish_bought, &out.finish_used)))
            .map(|((wood, hardware), finish)| wood + hardware + finish);
        let labor = counted(batch.steps.is_some(), &out.labor);
        let made = out.materials.clone().zip(labor).filter(|_| said);
        let made = made.map(|(materials, labor)| materials + labor);
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
}

/// Works a batch out.
///
/// Example: 9 hooks a piece in packs of 12 at 4.50, two pieces: 18 hooks, 2 packs, 9.00 bought, 6.75 used.
///
/// ```
/// use offsquare_work::price::{Batch, Hardware, costs, whole};
/// let some = |n| Some(whole(n));
/// let hooks = Hardware { per_piece: some(9), pack: some(12), pack_price: some(450), opened: None };
/// let batch = Batch { pieces: 2, sold_as: 1, hardware: Some(vec![hooks]), ..Batch::default() };
/// let costs = costs(&batch);
/// assert_eq!((costs.hardware_bought, costs.hardware_used), (some(900), some(675)));
/// ```
pub fn costs(batch: &Batch) -> Costs {
    PerPiece::of(batch).costs(batch.pieces, batch.wood.as_ref())
}

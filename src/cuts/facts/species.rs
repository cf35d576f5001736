//! Species of wood: how heavy they are.

use super::{Fact, Seen, Source};

/// One species.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Species {
    pub name: &'static str,
    /// Oven-dry weight over volume at 12 % moisture, against water.
    pub specific_gravity: f64,
}

const HANDBOOK: Source = Source {
    title: "Forest Products Laboratory, Wood Handbook, FPL-GTR-282",
    edition: "2021",
    place: "chapter 5, table 5-3b",
    seen: Seen::SecondHand,
};

const fn row(name: &'static str, specific_gravity: f64) -> Fact<Species> {
    Fact { value: Species { name, specific_gravity }, source: HANDBOOK }
}

/// Averages of clear wood.
pub const SPECIES: [Fact<Species>; 17] = [
    row("Eastern white pine", 0.35),
    row("Ponderosa pine", 0.40),
    row("Lodgepole pine", 0.41),
    row("Loblolly pine", 0.51),
    row("Douglas-fir", 0.48),
    row("Western redcedar", 0.32),
    row("Redwood", 0.35),
    row("Yellow-poplar", 0.42),
    row("Red alder", 0.41),
    row("Black cherry", 0.50),
    row("Black walnut", 0.55),
    row("Red maple", 0.54),
    row("Sugar maple", 0.63),
    row("Northern red oak", 0.63),
    row("White oak", 0.68),
    row("White ash", 0.60),
    row("American beech", 0.64),
];

/// Names that the table's own come with: what the source adds in parentheses or behind a comma.
const ALSO: [(&str, &str); 6] = [
    ("lodgepole pine an spf", "Lodgepole pine"),
    ("loblolly southern pine", "Loblolly pine"),
    ("southern pine", "Loblolly pine"),
    ("douglas fir coast", "Douglas-fir"),
    ("redwood young growth", "Redwood"),
    ("sugar hard maple", "Sugar maple"),
];

impl Species {
    /// By name, in any spelling of case, hyphens, underscores and parentheses.
    ///
    /// ```
    /// let oak = offsquare_cuts::facts::Species::find("white_oak").unwrap();
    /// assert_eq!((oak.name, oak.kg_per_m3()), ("White oak", 1120.0 * 0.68));
    /// ```
    pub fn find(name: &str) -> Option<Species> {
        let plain = |name: &str| {
            let letters =
                |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { ' ' };
            let words: String = name.chars().map(letters).collect();
            words.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let asked = plain(name);
        let also = ALSO.iter().find(|(other, _)| *other == asked).map(|(_, name)| plain(name));
        let asked = also.unwrap_or(asked);
        SPECIES.iter().map(|f| f.value).find(|s| plain(s.name) == asked)
    }

    /// At 12 % moisture: what the oven-dry wood weighs and its water, kg a cubic meter.
    pub fn kg_per_m3(&self) -> f64 {
        1120.0 * self.specific_gravity
    }
}

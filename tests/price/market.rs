//! What others ask, and what was tried: sums worked by hand.

use offsquare_work::price::{
    Band, Batch, Exact, Fees, Overhead, Seen, Selling, Stand, Step, Tried, Wood, at_prices, costs,
    half_up, outcome, sold_best, whole,
};

fn seen(low: u64, high: u64) -> Seen {
    Seen { low: whole(low), high: whole(high), place: "market".into(), date: "2026-05-09".into() }
}

fn day(asked: u64, taken: u64, sold: u64, hours: u64) -> Tried {
    Tried {
        date: "2026-05-09".into(),
        place: "market".into(),
        asked: whole(asked),
        taken,
        sold,
        hours: whole(hours),
    }
}

/// Eight pieces sold in pairs: 80.00 of wood, 4 hours in all, overhead 10 % of wood and labor at 20.00 an hour.
fn pairs() -> Batch {
    Batch {
        pieces: 8,
        sold_as: 2,
        wood: Some(Some(Wood { bought: whole(8000), kept: whole(0) })),
        steps: Some(vec![Step { set_up: whole(80), each: whole(20) }]),
        rate: Some(whole(2000)),
        overhead: Some(Overhead::Share(whole(1) / whole(10))),
        ..Batch::default()
    }
}

#[test]
fn a_band_reaches_from_the_lowest_to_the_highest() {
    assert_eq!(Band::of(&[]), None);
    // The second was put in the wrong way around.
    let band = Band::of(&[seen(4500, 6000), seen(5500, 3900), seen(5000, 5000)]).unwrap();
    assert_eq!((&band.low, &band.high), (&whole(3900), &whole(6000)));
    let stands = [3899, 3900, 5000, 6000, 6001].map(|price| band.stand(&whole(price)));
    use Stand::{Above, Below, Within};
    assert_eq!(stands, [Below, Within, Within, Within, Above]);
}

#[test]
fn what_the_days_earned_an_hour() {
    let batch = pairs();
    let known = costs(&batch);
    let how = Selling {
        fees: Some(Fees { share: whole(5) / whole(100), fixed: whole(50) }),
        stall: Some(whole(3000)),
        ..Selling::default()
    };
    let days = [day(9000, 4, 3, 6), day(8000, 1, 1, 5)];
    let all = outcome(&days, &batch, &known, &how).unwrap();
    // 3 pairs at 90.00 and 1 at 80.00: 350.00. Fees 17.50 + 4 × 0.50 = 19.50; two stalls 60.00; wood 80.00; overhead
    // 16.00, a tenth of 160.00. Left 174.50 for 6 + 5 + 4 hours.
    assert_eq!((all.sold, &all.takings, &all.left), (4, &whole(35_000), &whole(17_450)));
    assert_eq!(
        (&all.hours, half_up(all.earned_per_hour.as_ref().unwrap())),
        (&whole(15), 1163.into())
    );
    // A day without a sale costs its stall: -30.00 in 5 hours.
    let none = outcome(&[day(9000, 4, 0, 5)], &batch, &known, &how).unwrap();
    assert_eq!(none.earned_per_hour, Some(Exact::from_integer((-600).into())));
    // No day and no hours.
    assert_eq!(outcome(&[], &batch, &known, &how).unwrap().earned_per_hour, None);
}

#[test]
fn what_is_not_known_earns_nothing_yet() {
    let days = [day(9000, 4, 3, 6)];
    for batch in [
        Batch { wood: Some(None), ..pairs() },
        Batch { steps: None, ..pairs() },
        Batch { rate: None, ..pairs() },
    ] {
        assert_eq!(outcome(&days, &batch, &costs(&batch), &Selling::default()), None);
    }
}

#[test]
fn the_price_that_sold_best() {
    assert_eq!(sold_best(&[]), None);
    assert_eq!(sold_best(&[day(5000, 6, 0, 4)]), None);
    let days = [day(6000, 4, 1, 4), day(4500, 6, 3, 4), day(6000, 4, 3, 4), day(7000, 5, 1, 4)];
    let told: Vec<(Exact, u64, u64)> =
        at_prices(&days).into_iter().map(|one| (one.asked, one.taken, one.sold)).collect();
    assert_eq!(told, [(whole(4500), 6, 3), (whole(6000), 8, 4), (whole(7000), 5, 1)]);
    // Half of both were sold; of the dearer one more.
    assert_eq!(sold_best(&days).unwrap().asked, whole(6000));
    let even = [day(4500, 6, 3, 4), day(6000, 6, 3, 4)];
    assert_eq!(sold_best(&even).unwrap().asked, whole(6000));
}

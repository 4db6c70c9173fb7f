//! A long shift: the phone is left on all day, records are added all the while, and it weighs no more at the end.
//!
//! Never here: how fast anything is.

use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::{Phone, Weight};
use evenrow_browser_tests::counted::tell;
use evenrow_browser_tests::server::Site;

/// How long the phone is left on.
const HOURS: usize = 12;

/// A record stays in memory as it is read, as it is written and as it is shown.
const BYTES_A_RECORD: u64 = 4 * 1024;

/// By how much a browser's heap wavers, and the program's memory grows in one step (64 kB are a page of it).
const WAVERING_BYTES: u64 = 256 * 1024;

/// How often all tabs are walked through to see what a screen leaves behind.
const ROUNDS: usize = 20;

/// Nothing is kept that was there before, but for this much memory.
fn check_lightness(what: &str, before: Weight, after: Weight, bytes: u64) {
    let told = format!("{what}: {before:?} became {after:?}");
    assert!(after.listeners <= before.listeners + 2, "{told}");
    assert!(after.heap_bytes <= before.heap_bytes + bytes, "{told}");
    assert!(
        after.program_bytes <= before.program_bytes + bytes,
        "{told}"
    );
}

/// The same, where nobody but the page itself has tapped: no node is kept either.
fn check_nodes(what: &str, before: Weight, after: Weight) {
    assert!(
        after.nodes <= before.nodes + 20,
        "{what}: {before:?} became {after:?}"
    );
}

/// Twelve minutes of work: three looks, three notes and a break.
async fn twelve_minutes(phone: &mut Phone, at: usize) {
    for minute in 0..12 {
        phone.time_passes(Duration::from_mins(1)).await;
        let day = phone.long_day();
        if day.rings().await {
            day.oils().await;
        }
        match minute {
            1 | 8 | 10 => day.looks().await,
            3 | 6 | 11 => day.writes(&format!("Alder Loop, post {at}{minute}")).await,
            5 => day.rests().await,
            7 => day.goes_on().await,
            _ => {}
        }
    }
}

#[tokio::test]
async fn a_long_shift_with_many_records_leaves_the_phone_as_light_as_it_was() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.knows_the_programs_memory().await;
    beginnings::it_knows_its_machine(&phone, &site).await;
    phone.start().times().end_at("20:00").await;
    beginnings::a_shift_is_started(&phone).await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    phone.shift().see().await;
    let mut at_first = None;
    for half_hour in 0..HOURS * 2 {
        twelve_minutes(&mut phone, half_hour).await;
        phone.long_day().walks_through(2).await;
        let before = phone.weight().await;
        let records = phone.app().records_kept().await.len() as u64;
        at_first.get_or_insert((before, records));
        // Nobody touches it; what falls due rings on.
        phone.time_passes(Duration::from_mins(18)).await;
        if phone.long_day().rings().await {
            phone.long_day().oils().await;
        } else {
            let after = phone.weight().await;
            check_nodes("eighteen minutes", before, after);
            check_lightness("eighteen minutes", before, after, WAVERING_BYTES);
        }
    }
    // Until then the last sound has died away.
    twelve_minutes(&mut phone, HOURS * 2).await;
    phone.long_day().walks_through(2).await;
    let (first, few) = at_first.expect("an hour");
    let last = phone.weight().await;
    let records = phone.app().records_kept().await.len() as u64;
    let room = WAVERING_BYTES + (records - few) * BYTES_A_RECORD;
    check_lightness("the shift", first, last, room);
    // A look is a mark on the line, and each oiling is told: a few nodes for each record, and no screen that was left.
    assert!(
        last.nodes <= first.nodes + 8 * (records - few),
        "the shift: {first:?} became {last:?}"
    );
    phone.long_day().walks_through(ROUNDS).await;
    let walked = phone.weight().await;
    check_nodes("a walk through all tabs", last, walked);
    check_lightness("a walk through all tabs", last, walked, WAVERING_BYTES);
    // The time of day has not drifted from what the phone shows.
    let wall = 6 * 60 + 45 + HOURS * 60 + 12;
    let now = format!("{:02}:{:02}", wall / 60, wall % 60);
    phone.tabs().see_clock(&now).await;
    tell(
        "hours of a shift with the phone left on",
        HOURS,
        &format!(
            "{records} records; listeners {} at first, {} at last; heap {} and {} kB, memory of the program {} and {} kB; no node is kept; the clock is right to the minute",
            first.listeners,
            walked.listeners,
            first.heap_bytes / 1024,
            walked.heap_bytes / 1024,
            first.program_bytes / 1024,
            walked.program_bytes / 1024,
        ),
    );
}

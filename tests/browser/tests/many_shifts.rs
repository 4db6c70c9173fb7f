//! A start after many shifts reads what it needs and no more; whatever is wrong with what it was left, all records are read.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::oddity::Oddity;
use evenrow_browser_tests::server::Site;

/// 1 June 2025, seven in the morning, six hours behind UTC.
const FIRST_MORNING_MS: u64 = 1_748_782_800_000;
const HOUR_MS: u64 = 3_600_000;

/// How many shifts are kept, and how many records.
const SHIFTS: u64 = 60;
const RECORDS: u64 = 1 + SHIFTS * 20;

/// An id as the app gives them to its records: they sort by the count.
fn id(count: u64) -> String {
    let digits: Vec<u8> = ('0'..='9')
        .chain('A'..='Z')
        .chain('a'..='z')
        .map(|it| it as u8)
        .collect();
    let digit = |place: u32| char::from(digits[(count / 62_u64.pow(place) % 62) as usize]);
    let count: String = (0..5).rev().map(digit).collect();
    format!("{count}abcdefghi")
}

fn record(count: u64, at_ms: u64, event: &str) -> String {
    let id = id(count);
    format!(
        r#"{{"v":1,"id":"{id}","count":{count},"at_ms":{at_ms},"offset_min":-360,"device":"cab","event":{event}}}"#
    )
}

/// A machine and sixty shifts of eight hours, one a day, each with eighteen oilings.
fn many_shifts() -> String {
    let machine = r#"{"machine_described":{"name":"Pine Ridge 2","moldboard_um":3657600,"plates_um":[914400,990600],"pitch_um":38100}}"#;
    let mut records = vec![record(1, FIRST_MORNING_MS, machine)];
    for shift in 0..SHIFTS {
        let start = FIRST_MORNING_MS + shift * 24 * HOUR_MS;
        let first = 2 + shift * 20;
        let end = start + 8 * HOUR_MS;
        let planned =
            format!(r#"{{"shift_started":{{"start_ms":{start},"end_ms":{end},"breaks_ms":[]}}}}"#);
        records.push(record(first, start, &planned));
        let of = id(first);
        for oiling in 1..=18 {
            let oiled = format!(r#"{{"oiled":{{"shift":"{of}"}}}}"#);
            records.push(record(first + oiling, start + oiling * HOUR_MS / 3, &oiled));
        }
        let ended = format!(r#"{{"shift_ended":{{"shift":"{of}"}}}}"#);
        records.push(record(first + 19, end, &ended));
    }
    records.join("\n")
}

/// A phone that has kept them, after a start in which it has read them all.
async fn a_phone_with_many_shifts(site: &Site) -> Phone {
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.is_odd(Oddity::ReadsAreCounted).await;
    phone.open(site).await;
    phone.first_start().see().await;
    phone.app().has_kept(&many_shifts()).await;
    phone.reload().await;
    phone.start().see().await;
    assert_eq!(phone.records_read().await, RECORDS);
    phone.app().checkpoint().await;
    phone
}

#[tokio::test]
async fn after_many_shifts_a_start_reads_little_a_shift_runs_on_it_and_the_book_still_has_them_all()
{
    let site = Site::open();
    let phone = a_phone_with_many_shifts(&site).await;
    phone.reload().await;
    phone.start().see().await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    assert_eq!(phone.records_read().await, 0);
    beginnings::a_shift_on_gravel_is_started(&phone).await;
    phone.shift().press().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
    // The start, the set-up and the oiling are what has come since.
    phone.reload().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
    assert_eq!(phone.records_read().await, 3);
    phone.tabs().book().await;
    assert_eq!(phone.book().shifts().await as u64, SHIFTS + 1);
    phone.tabs().shift().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
}

#[tokio::test]
async fn a_start_that_was_left_something_wrong_reads_all_records() {
    let site = Site::open();
    let phone = a_phone_with_many_shifts(&site).await;
    let good = phone.app().checkpoint().await;
    let of_another_machine = good.replacen("Pine Ridge 2", "Pine Ridge 3", 1);
    let of_fewer = good.replacen(&format!(" {RECORDS} "), &format!(" {} ", RECORDS - 1), 1);
    let cut = good[..good.len() / 2].to_owned();
    for wrong in [of_another_machine, of_fewer, cut, "?".to_owned()] {
        assert_ne!(wrong, good);
        phone.app().has_kept_checkpoint(&wrong).await;
        phone.reload().await;
        phone.start().see().await;
        phone.tabs().see_machine("Pine Ridge 2").await;
        assert!(RECORDS <= phone.records_read().await, "{wrong}");
        phone.app().see_checkpoint(&good).await;
    }
    // A record that came past the app, and sorts among those that are known.
    let between = record(
        2,
        FIRST_MORNING_MS,
        r#"{"usual_shift_set":{"start_min":360,"end_min":900,"rest_min":null}}"#,
    )
    .replace("abcdefghi", "zzzzzzzzz");
    phone.app().has_kept(&between).await;
    phone.reload().await;
    phone.start().see().await;
    assert!(RECORDS < phone.records_read().await);
}

#[tokio::test]
async fn whoever_erases_all_records_leaves_nothing_for_the_next_start() {
    let site = Site::open();
    let phone = a_phone_with_many_shifts(&site).await;
    phone.reload().await;
    phone.tabs().book().await;
    phone.book().to_records().await;
    phone.records().to_erase().await;
    phone.records().erase("Erase without a backup").await;
    phone.records().see_erased(RECORDS as usize).await;
    assert!(!phone.app().has_checkpoint().await);
    phone.reload().await;
    phone.first_start().see().await;
}

//! The app never dies in silence: whatever stops it, a screen says so, the records can be copied, and one tap starts it
//! again with nothing lost.

use std::fs;
use std::path::Path;
use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::process::required;
use evenrow_browser_tests::server::Site;

/// A shift on gravel with its first oiling done, in the app that panics when it is asked to.
async fn a_shift_with_an_oiling(site: &Site) -> Phone {
    let mut phone = beginnings::a_shift_on_gravel(site).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone
}

async fn panic(phone: &Phone, site: &Site) {
    phone.go_to(&format!("{}#panic", site.address())).await;
    phone.dead().see("Evenrow has stopped").await;
}

/// One second after the other.
async fn seconds_pass(phone: &mut Phone, seconds: u32) {
    for _ in 0..seconds {
        phone.time_passes(Duration::from_secs(1)).await;
    }
}

/// What was copied, in the order of the alphabet.
fn sorted(lines: &str) -> Vec<String> {
    let mut lines: Vec<String> = lines.lines().map(ToOwned::to_owned).collect();
    lines.sort();
    lines
}

#[tokio::test]
async fn an_app_that_panics_says_so_hands_out_its_records_and_starts_again_in_one_tap() {
    let site = Site::that_panics();
    let phone = a_shift_with_an_oiling(&site).await;
    let kept = phone.app().records_kept().await;
    // The machine, the usual shift, the start, the set-up, the oiling.
    assert_eq!(kept.len(), 5, "{kept:?}");
    panic(&phone, &site).await;

    let dead = phone.dead();
    let words = dead.words().await;
    for told in [
        "It does not remind you of anything until you start it again.",
        "What you recorded is safe on this phone.",
    ] {
        assert!(words.contains(told), "{told:?} is not said: {words}");
    }
    for message in [dead.said().await, dead.kept_message().await] {
        assert!(message.contains("panic happens on purpose"), "{message}");
        assert!(message.contains("page.rs"), "{message}");
    }
    // Nothing of the dead app is left to be tapped.
    assert_eq!(
        dead.what_the_focus_reaches().await,
        ["Start again", "Copy the records"]
    );
    dead.copy_records().await;
    assert_eq!(sorted(&phone.clipboard().await), kept);

    dead.start_again().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
    phone.shift().see_head("1 of 3 oiled").await;
    assert_eq!(phone.app().records_kept().await, kept);
}

#[tokio::test]
async fn records_that_the_browser_will_not_copy_can_be_copied_by_hand() {
    let site = Site::that_panics();
    let phone = a_shift_with_an_oiling(&site).await;
    let kept = phone.app().records_kept().await;
    phone.this_tab_does_not_copy().await;
    phone.reload().await;
    panic(&phone, &site).await;
    assert_eq!(sorted(&phone.dead().copy_records_by_hand().await), kept);
}

#[tokio::test]
async fn records_of_a_phone_without_a_database_can_be_copied_too() {
    let site = Site::that_panics();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.this_tab_has_no_database().await;
    phone.open(&site).await;
    phone.first_start().answer_as_most_do().await;
    phone.start().start().await;
    phone.shift().see().await;
    let kept = phone.app().records_kept().await;
    assert_eq!(kept.len(), 3, "{kept:?}");
    panic(&phone, &site).await;
    phone.dead().copy_records().await;
    assert_eq!(sorted(&phone.clipboard().await), kept);
}

#[tokio::test]
async fn an_app_that_hangs_is_found_out_while_somebody_looks_and_let_be_while_nobody_does() {
    let site = Site::open();
    let mut phone = a_shift_with_an_oiling(&site).await;
    phone.is_out_of_sight(true).await;
    phone.app().hangs().await;
    seconds_pass(&mut phone, 20).await;
    phone.shift().see().await;

    phone.is_out_of_sight(false).await;
    seconds_pass(&mut phone, 12).await;
    phone.dead().see("Evenrow has stopped").await;
    let said = phone.dead().said().await;
    assert!(said.contains("no sign of life for 10 s"), "{said}");
    phone.dead().start_again().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
}

#[tokio::test]
async fn an_app_that_lives_is_let_be_however_fast_time_passes() {
    let site = Site::open();
    let mut phone = a_shift_with_an_oiling(&site).await;
    seconds_pass(&mut phone, 30).await;
    phone.time_passes(Duration::from_hours(1)).await;
    phone.shift().card_once("ahead", "1:40").await;
}

#[tokio::test]
async fn an_app_that_does_not_start_says_so_and_starts_once_it_can() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.program_arrives(false).await;
    phone.open_in_vain(&site).await;
    seconds_pass(&mut phone, 12).await;
    let dead = phone.dead();
    dead.see("Evenrow did not start").await;
    // There are none yet, and looking for them leaves nothing behind that stands in the app’s way.
    dead.copy_records().await;
    phone.program_arrives(true).await;
    dead.start_again().await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    assert_eq!(phone.app().records_kept().await.len(), 2);
}

#[tokio::test]
async fn a_new_phone_asks_its_questions_before_the_rest_has_come_and_keeps_the_answers_until_it_has()
 {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.work_arrives(false).await;
    phone.open(&site).await;
    let first = phone.first_start();
    first.answer_as_most_do().await;
    first.see_not_all_here().await;
    phone.picture("first-not-all-here").await;
    // It waits, and is not taken for dead.
    seconds_pass(&mut phone, 15).await;
    first.ready().await;
    first.see_not_all_here().await;
    phone.reload().await;
    assert_eq!(first.board_picked().await, "12 ft (3.66 m)");

    phone.work_arrives(true).await;
    first.ready().await;
    phone.start().see().await;
    assert_eq!(phone.app().records_kept().await.len(), 2);
}

#[tokio::test]
async fn records_stay_shut_and_whole_until_what_opens_them_has_come() {
    let site = Site::open();
    let mut phone = a_shift_with_an_oiling(&site).await;
    let kept = phone.app().records_kept().await;
    phone.work_arrives(false).await;
    phone.reload().await;
    let later = phone.later();
    later.see_failed().await;
    phone.picture("records-shut").await;
    later.try_again().await;
    later.see_failed().await;
    seconds_pass(&mut phone, 15).await;
    later.see_failed().await;
    assert_eq!(phone.app().records_kept().await, kept);

    phone.work_arrives(true).await;
    later.try_again().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
}

#[tokio::test]
async fn until_the_later_screens_are_there_the_shift_rings_and_the_row_says_what_is_missing() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.later_screens_arrive(false).await;
    phone.reload().await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;

    let later = phone.later();
    later.tap_row().await;
    later.see_failed().await;
    phone.picture("not-fetched").await;
    later.try_again().await;
    later.see_failed().await;
    // What lies ahead rings on this screen, too.
    phone.clock_moves_to("09:40").await;
    phone.alarm().done().await;
    later.see_failed().await;

    phone.later_screens_arrive(true).await;
    later.try_again().await;
    phone.row().see().await;
    phone.tabs().shift().await;
    phone.shift().see_drops(&["done", "done", "planned"]).await;
}

#[tokio::test]
async fn the_screen_of_a_dead_app_keeps_nobody_out() {
    let site = Site::that_panics();
    let phone = a_shift_with_an_oiling(&site).await;
    phone.this_tab_does_not_copy().await;
    phone.reload().await;
    panic(&phone, &site).await;
    phone.picture("dead").await;
    phone.dead().copy_records_by_hand().await;
    for look in ["sun", "night"] {
        phone.system_is_dark(look == "night").await;
        phone.app().see_look(look).await;
        let violations = phone.app().violations().await;
        assert!(violations.is_empty(), "{look}: {violations:#?}");
    }
    for width in [320, 412] {
        phone.resize(width, 915).await;
        for target in phone.app().targets().await {
            assert!(target.is_large_enough(), "{width}: {target:?}");
        }
    }
    phone.resize(320, 640).await;
    for per_cent in [100, 200] {
        phone.app().enlarge_letters(per_cent).await;
        let width = phone.app().width().await;
        assert!(
            (width.screen, width.reach) == (320, 320) && width.beyond.is_empty(),
            "{per_cent} %: {width:?}"
        );
    }
}

#[test]
fn the_app_that_is_shipped_cannot_be_asked_to_panic() {
    let asked = "this panic happens on purpose".as_bytes();
    let holds_it = |folder: &str| {
        let program = program(Path::new(&required(folder)));
        program.windows(asked.len()).any(|bytes| bytes == asked)
    };
    assert!(holds_it("EVENROW_DIST_PANIC"));
    assert!(!holds_it("EVENROW_DIST"));
}

/// The bytes of the program in a folder with the built app, all its files.
fn program(folder: &Path) -> Vec<u8> {
    let files = fs::read_dir(folder).expect("the built app");
    let program = files
        .filter_map(Result::ok)
        .map(|file| file.path())
        .filter(|path| path.extension().is_some_and(|it| it == "wasm"));
    program
        .flat_map(|path| fs::read(path).expect("the program’s bytes"))
        .collect()
}

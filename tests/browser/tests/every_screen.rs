//! Every screen, in both looks: readable to those who cannot see it well, with targets for gloves, and with nothing cut
//! off on a narrow phone whose letters are twice as large.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

/// The width of a usual phone, in pixels of the page.
const WIDTH: u32 = 412;

/// A narrow phone, in pixels of the page.
const NARROW: (u32, u32) = (320, 640);

/// Examines the screen that is shown.
async fn examine(phone: &Phone, name: &str) {
    let app = phone.app();
    app.unfold_everything().await;
    // All of it at once: what the bars cover depends on where the page is scrolled to.
    phone.resize(WIDTH, app.height().await).await;
    for look in ["sun", "night"] {
        app.show_look(look).await;
        let found = app.violations().await;
        assert!(found.is_empty(), "{name}, {look}: {found:#?}");
    }
    app.show_look("sun").await;
    let targets = app.targets().await;
    assert!(!targets.is_empty(), "{name} has nothing to tap");
    for target in targets {
        // Half a pixel is rounding.
        assert!(
            target.least <= target.height + 0.5,
            "{name}: {target:?} is too low for a glove"
        );
    }
    phone.resize(NARROW.0, NARROW.1).await;
    for per_cent in [100, 200] {
        app.enlarge_letters(per_cent).await;
        let overflow = app.overflow().await;
        assert!(overflow.is_none(), "{name}, {per_cent} %: {overflow:?}");
    }
    app.enlarge_letters(100).await;
    phone.resize_back().await;
}

#[tokio::test]
async fn the_first_start_and_the_start_of_a_shift_can_be_read_and_tapped_by_all() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.first_start().see().await;
    examine(&phone, "first start").await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    examine(&phone, "start").await;
    phone.tabs().machine().await;
    phone.machine().see().await;
    examine(&phone, "machine").await;
}

#[tokio::test]
async fn the_shift_and_its_forms_can_be_read_and_tapped_by_all() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_without_work(&site).await;
    examine(&phone, "shift without work").await;
    phone.shift().press().await;
    phone.setup().see().await;
    examine(&phone, "setup").await;
    phone.setup().choose("Gravel, top layer").await;
    examine(&phone, "sheet").await;
    phone.sheet().use_it().await;
    phone.shift().see_title("Oil the sockets").await;
    phone.clock_moves_to("07:20").await;
    phone.shift().card_once("late", "0:20").await;
    examine(&phone, "late shift").await;
    phone.shift().to_opening().await;
    phone.checklist().see("Opening checklist").await;
    examine(&phone, "opening").await;
    phone.checklist().back_to_the_shift().await;
    phone.shift().write_note().await;
    phone.note().write("Alder Loop: soft shoulder").await;
    examine(&phone, "note").await;
    phone.tabs().shift().await;
    phone.shift().some_are_not().await;
    phone.look().see().await;
    examine(&phone, "look").await;
    phone.tabs().shift().await;
    phone.shift().to_closing().await;
    phone.checklist().see("Closing checklist").await;
    examine(&phone, "closing").await;
    phone.checklist().end_the_shift().await;
    phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    examine(&phone, "report").await;
    phone.tabs().book().await;
    phone.book().see().await;
    examine(&phone, "book").await;
}

#[tokio::test]
async fn back_leads_from_the_sheet_to_the_choice_of_work_and_on_to_the_shift() {
    let site = Site::open();
    let phone = beginnings::a_shift_without_work(&site).await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.app().see_heading("Gravel, top layer").await;
    phone.back().await;
    phone.app().see_heading("What is the work?").await;
    phone.back().await;
    phone.shift().see_title("Choose today’s work").await;
}

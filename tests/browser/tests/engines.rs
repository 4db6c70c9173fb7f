//! The same stories in each engine, by the clock on the wall and with nothing emulated; and what an engine lacks, as the
//! screen says it.
//!
//! Never here: what needs a clock that moves, a sensor or a size that changes, which only Chromium can be told.

use evenrow_browser_tests::engine::{Browser, Engine};
use evenrow_browser_tests::server::Site;

/// Each story, told in each engine.
macro_rules! told_in_each_engine {
    ($($story:ident)*) => {
        mod in_chromium {
            $(#[tokio::test]
            async fn $story() {
                super::$story(super::Engine::Chromium).await;
            })*
        }
        mod in_firefox {
            $(#[tokio::test]
            async fn $story() {
                super::$story(super::Engine::Firefox).await;
            })*
        }
        mod in_webkit {
            $(#[tokio::test]
            async fn $story() {
                super::$story(super::Engine::WebKit).await;
            })*
        }
    };
}

told_in_each_engine! {
    a_morning_shift_ends_in_a_report_that_tells_it_all
    a_shift_goes_on_after_the_server_has_died
    a_tooth_is_noted_replaced_and_measured
    a_backup_is_taken_in_by_another_browser_byte_for_byte
    what_this_browser_lacks_is_said_on_the_screen
}

async fn a_browser_that_knows_its_machine(engine: Engine, site: &Site) -> Browser {
    let browser = Browser::start(engine).await;
    browser.open(site).await;
    browser.first_start().answer_as_most_do().await;
    browser.start().see().await;
    browser
}

/// The shift from seven to half past three runs on gravel; three oilings are planned and the first is due.
async fn a_shift_on_gravel(browser: &Browser) {
    browser.start().start().await;
    let shift = browser.shift();
    shift.see_title("Choose today’s work").await;
    shift.press().await;
    browser.setup().choose("Gravel, top layer").await;
    browser
        .sheet()
        .see_line("Cutting angle", "50° (47° to 53°)")
        .await;
    browser.sheet().use_it().await;
    shift.see_head("Gravel, top layer").await;
}

fn check_report(report: &str, wanted: &[&str]) {
    for told in wanted {
        assert!(
            report.contains(told),
            "the report does not say {told:?}:\n{report}"
        );
    }
}

async fn a_morning_shift_ends_in_a_report_that_tells_it_all(engine: Engine) {
    let site = Site::open();
    let browser = a_browser_that_knows_its_machine(engine, &site).await;
    a_shift_on_gravel(&browser).await;
    let (shift, notices) = (browser.shift(), browser.notices());
    browser.alarm().done().await;
    notices.see_kept("sockets oiled").await;
    shift.all_turning().await;
    notices.see_kept("all teeth turning").await;
    shift.some_are_not().await;
    browser.look().more("Stuck", 1).await;
    browser.look().keep().await;
    notices.see_kept("1 stuck").await;
    notices.undo().await;
    shift.see_looks_on_the_line(1).await;
    shift.write_note().await;
    let note = "Alder Loop: “soft” shoulder, 30 °C";
    browser.note().write(note).await;
    browser.note().keep().await;
    notices.see_kept("note").await;
    shift.to_closing().await;
    browser.checklist().tick(0).await;
    browser.checklist().end_the_shift().await;
    let title = "Shift report: My grader";
    let report = browser.report().read(title).await;
    let wanted = [
        "Planned: 07:00 to 15:30",
        "Gravel, top layer (Suits this edge)",
        "Due 07:00: oiled 0",
        "all teeth turning",
        "1 of 6 ticked",
        note,
    ];
    check_report(&report, &wanted);
    browser.reload().await;
    assert_eq!(browser.report().read(title).await, report);
}

async fn a_shift_goes_on_after_the_server_has_died(engine: Engine) {
    let mut site = Site::open();
    let browser = Browser::start(engine).await;
    browser.open(&site).await;
    browser.app().in_charge_of_itself().await;
    site.die();
    browser.reload().await;
    browser.first_start().answer_as_most_do().await;
    browser.start().see().await;
    a_shift_on_gravel(&browser).await;
    browser.alarm().done().await;
    browser.notices().see_kept("sockets oiled").await;
    browser.shift().write_note().await;
    let note = "Alder Loop: no signal past the quarry";
    browser.note().write(note).await;
    browser.note().keep().await;
    browser.notices().see_kept("note").await;
    let kept = browser.app().records_kept().await;
    browser.reload().await;
    browser.shift().see_head("Gravel, top layer").await;
    assert_eq!(browser.app().records_kept().await, kept);
    browser.shift().to_closing().await;
    browser.checklist().end_the_shift().await;
    let report = browser.report().read("Shift report: My grader").await;
    check_report(&report, &["Due 07:00: oiled 0", note]);
    // An address below the app leads to the app as well.
    browser
        .go_to(&format!("{}shift/of/yesterday", site.address()))
        .await;
}

async fn a_tooth_is_noted_replaced_and_measured(engine: Engine) {
    let site = Site::open();
    let browser = a_browser_that_knows_its_machine(engine, &site).await;
    let row = browser.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.to_spares().await;
    row.add_spares(2).await;
    row.see_spares("wide flange, pointed, 20 mm", "2").await;
    // The notice makes the page longer: until it is there, what stands below moves under the finger.
    browser.notices().see_kept("2 spares counted").await;
    row.back().await;
    row.plate(2).await;
    row.tooth(5).await;
    assert!(row.opened_is_below_its_tooth().await);
    row.it_is("broken").await;
    row.see_tooth(5, "plate 2, tooth 5, broken, 20 mm").await;
    row.see_answer("change", "2-5").await;
    browser.reload().await;
    row.plate(2).await;
    row.tooth(5).await;
    row.see_offer("Replace it: wide flange, pointed, 20 mm; its equal")
        .await;
    row.replace().await;
    row.see_tooth(5, "plate 2, tooth 5, turning, 20 mm").await;
    row.tooth(6).await;
    row.shorter_tip(2).await;
    row.keep_tip().await;
    row.see_tooth(6, "plate 2, tooth 6, turning, 19 mm").await;
    row.to_spares().await;
    row.see_spares("wide flange, pointed, 20 mm", "1").await;
    browser.reload().await;
    row.see_spares("wide flange, pointed, 20 mm", "1").await;
}

async fn a_backup_is_taken_in_by_another_browser_byte_for_byte(engine: Engine) {
    let site = Site::open();
    let first = a_browser_that_knows_its_machine(engine, &site).await;
    a_shift_on_gravel(&first).await;
    first.alarm().done().await;
    first.notices().see_kept("sockets oiled").await;
    let kept = first.app().records_kept().await;
    first.tabs().book().await;
    first.book().to_records().await;
    first.records().back_up().await;
    first
        .records()
        .see_handed("The file is handed over. See that it has arrived.")
        .await;
    let (name, text) = first.downloaded().await;
    assert!(name.starts_with("evenrow-backup-"), "{name}");
    let mut lines: Vec<&str> = text.lines().skip(1).collect();
    lines.sort_unstable();
    assert_eq!(lines, kept);
    // No more than two browsers may be at work in all stories together.
    drop(first);

    let second = Browser::start(engine).await;
    second.open(&site).await;
    second.first_start().from_a_file().await;
    let records = second.records();
    records.see().await;
    records
        .choose(&second.has_file(&name, text.as_bytes()))
        .await;
    records.preview("It has come through whole.").await;
    records.take_in().await;
    records.see_taken_in(kept.len()).await;
    second.reload().await;
    assert_eq!(second.app().records_kept().await, kept);
    second.tabs().shift().await;
    second.shift().see_head("Gravel, top layer").await;
}

async fn what_this_browser_lacks_is_said_on_the_screen(engine: Engine) {
    let site = Site::open();
    let browser = a_browser_that_knows_its_machine(engine, &site).await;
    a_shift_on_gravel(&browser).await;
    browser.alarm().done().await;
    let shift = browser.shift();
    browser.notices().see_kept("sockets oiled").await;
    shift
        .see_good("The screen stays awake during the shift.")
        .await;

    // Notifications: a browser without a head shows none, the others would have to be asked.
    shift.to_reminders().await;
    let reminders = browser.reminders();
    reminders.see().await;
    let stand = match engine {
        Engine::Chromium => "Notifications are switched off for this page.",
        Engine::Firefox | Engine::WebKit => "Nobody has been asked yet",
    };
    reminders.see_notifications(stand).await;

    // No sensor tells how the phone lies; the tape does.
    browser.go_to(&format!("{}#angle", site.address())).await;
    let angle = browser.cutting_angle();
    angle.see().await;
    angle.begin().await;
    angle
        .see_numb("This phone gives no readings of its tilt. Use the tape below.")
        .await;

    // Only Chromium ever offers the home screen by itself; here the steps by hand are what there is.
    match engine {
        Engine::Chromium => {}
        Engine::Firefox | Engine::WebKit => {
            browser.go_to(&format!("{}#install", site.address())).await;
            browser.app().see_heading("Put it on the home screen").await;
            browser.outside().see_no_offer().await;
        }
    }

    // WebKit keeps to itself how much space there is.
    browser.tabs().book().await;
    browser.book().to_records().await;
    match engine {
        Engine::Chromium | Engine::Firefox => {
            browser
                .records()
                .see_space("Records: ", "With the app itself: ")
                .await;
        }
        Engine::WebKit => browser.records().see_space_unknown().await,
    }

    // Without a share sheet the report is copied.
    browser.tabs().shift().await;
    shift.to_closing().await;
    browser.checklist().end_the_shift().await;
    let report = browser.report();
    report.read("Shift report: My grader").await;
    report.see_no_share_sheet().await;
    report.copy().await;
}

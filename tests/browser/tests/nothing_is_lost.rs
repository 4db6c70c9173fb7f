//! Whatever happens to the page, the tab or the whole browser: what was recorded is there, and so is what was half done.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

/// Sees something, leaves, returns, and sees the same again.
async fn stays(phone: &Phone, see: impl AsyncFn()) {
    see().await;
    phone.reload().await;
    see().await;
}

#[tokio::test]
async fn a_half_filled_first_start_is_there_after_a_reload() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    let first = phone.first_start();
    first.see().await;
    first.units("Metres, °C").await;
    first.another_board("4.1").await;
    first.usual_shift().start_later_by_quarters(2).await;
    first.usual_shift().end_earlier_by_quarters(1).await;
    first.usual_shift().break_is("45 min").await;
    stays(&phone, async || {
        first.see().await;
        assert_eq!(first.units_picked().await, "Metres, °C");
        assert_eq!(first.board_picked().await, "Another length");
        assert_eq!(first.another_board_typed().await, "4.1");
        first
            .usual_shift()
            .see("07:30", "15:15", "same day", "45 min", "11:00")
            .await;
    })
    .await;
    first.ready().await;
    phone.start().see().await;
    stays(&phone, async || {
        phone.start().see().await;
        phone
            .start()
            .times()
            .see("07:30", "15:15", "same day", "45 min", "11:00")
            .await;
    })
    .await;
}

#[tokio::test]
async fn a_start_changed_for_today_is_there_after_a_reload() {
    let site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    let times = phone.start().times();
    times.start_later_by_quarters(1).await;
    times.ends("next day").await;
    times.break_is("60 min").await;
    stays(&phone, async || {
        phone.start().see().await;
        times
            .see("07:15", "15:30", "next day", "60 min", "11:00")
            .await;
    })
    .await;
}

#[tokio::test]
async fn whatever_a_shift_was_at_is_there_after_a_reload() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_without_work(&site).await;
    let (shift, sheet, list) = (phone.shift(), phone.sheet(), phone.checklist());
    stays(&phone, async || {
        shift.see_title("Choose today’s work").await;
        shift.see_head("No work chosen yet").await;
    })
    .await;

    // Questions half answered.
    shift.press().await;
    phone.setup().choose("Milling soft surfacing").await;
    sheet.raise("How warm is the surface?", 3).await;
    stays(&phone, async || {
        sheet.see("Milling soft surfacing").await;
        sheet.see_number("How warm is the surface?", "12 °C").await;
        let soft = sheet
            .answered("Is the surfacing soft (oil-bound, thin seal)?")
            .await;
        assert_eq!(soft, "I don’t know");
        sheet.see_verdict("with-care", "With care").await;
    })
    .await;

    // With a set-up.
    phone.tabs().setup().await;
    phone.setup().choose("Gravel, top layer").await;
    sheet.use_it().await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    stays(&phone, async || {
        shift.see_head("Gravel, top layer").await;
        shift.see_head("1 of 3 oiled").await;
        shift.see_drops(&["done", "planned", "planned"]).await;
        shift.card_once("ahead", "2:40").await;
    })
    .await;

    // A checklist half ticked.
    shift.to_opening().await;
    for item in [0, 2, 5] {
        list.tick(item).await;
    }
    stays(&phone, async || {
        list.see("Opening checklist").await;
        list.see_ticked(&[0, 2, 5]).await;
    })
    .await;

    // A note half typed.
    phone.tabs().shift().await;
    shift.write_note().await;
    phone
        .note()
        .write("Alder Loop: culvert at the second b")
        .await;
    stays(&phone, async || {
        phone
            .note()
            .see_text("Alder Loop: culvert at the second b")
            .await;
    })
    .await;

    // Teeth half counted.
    phone.tabs().shift().await;
    shift.some_are_not().await;
    phone.look().more("Stiff", 2).await;
    phone.look().more("Broken or gone", 1).await;
    stays(&phone, async || {
        phone.look().see().await;
        phone.look().see_count("Stiff", "2").await;
        phone.look().see_count("Stuck", "0").await;
        phone.look().see_count("Broken or gone", "1").await;
    })
    .await;

    // The machine half renamed.
    phone.tabs().machine().await;
    phone.machine().see().await;
    phone.machine().name_it("Pine Rid").await;
    stays(&phone, async || {
        phone.machine().see().await;
        phone.machine().see_name("Pine Rid").await;
        phone.tabs().see_machine("My grader").await;
    })
    .await;

    // On break.
    phone.tabs().shift().await;
    phone.clock_moves_to("11:00").await;
    phone.alarm().done().await;
    shift.start_break().await;
    phone.clock_moves_to("11:10").await;
    stays(&phone, async || {
        shift.see_title("On break").await;
        assert_eq!(shift.card_once("ahead", "0:10").await.small, "since 11:00");
    })
    .await;

    // After the end.
    shift.to_closing().await;
    list.see("Closing checklist").await;
    list.end_the_shift().await;
    let report = phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    assert!(report.contains("Ended: 11:10"), "{report}");
    assert!(report.contains("3 of 8 ticked"), "{report}");
    stays(&phone, async || {
        assert_eq!(
            phone
                .report()
                .read("Shift report: My grader, 2026-07-01")
                .await,
            report
        );
    })
    .await;
    phone.tabs().shift().await;
    stays(&phone, async || phone.start().see().await).await;
}

#[tokio::test]
async fn a_tab_closed_in_the_middle_of_a_shift_costs_nothing() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone.close_the_tab_and_open_a_new_one(&site).await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
    phone.shift().see_head("Gravel, top layer").await;
}

#[tokio::test]
async fn an_oiling_that_the_screen_confirmed_survives_a_dead_battery() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone.lose_power_and_start_again().await;
    phone.open(&site).await;
    phone.tabs().shift().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
    phone.shift().see_head("1 of 3 oiled").await;
}

#[tokio::test]
async fn what_is_recorded_in_one_of_two_tabs_shows_in_the_other_and_neither_overwrites() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.open_another_tab(&site).await;
    let shift = phone.shift();
    shift.see_drops(&["planned", "planned", "planned"]).await;
    phone.clock_moves_to("07:00").await;

    // Each records something of its own, without a look at the other in between.
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone.bring_tab(0).await;
    shift.all_turning().await;
    phone.notices().see_kept("all teeth turning").await;

    for tab in [0, 1, 0] {
        phone.bring_tab(tab).await;
        shift.see_drops(&["done", "planned", "planned"]).await;
        shift.see_looks_on_the_line(1).await;
    }

    // A break begun here is ended there.
    shift.start_break().await;
    shift.see_title("On break").await;
    phone.bring_tab(1).await;
    shift.see_title("On break").await;
    shift.press().await;
    shift.see_title("Oil the sockets").await;
    phone.bring_tab(0).await;
    shift.see_title("Oil the sockets").await;

    for tab in [1, 0] {
        phone.bring_tab(tab).await;
        phone.reload().await;
        shift.see_drops(&["done", "planned", "planned"]).await;
        shift.see_looks_on_the_line(1).await;
        shift.see_title("Oil the sockets").await;
    }
}

#[tokio::test]
async fn a_copy_of_all_records_holds_every_one_of_them() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone.tabs().book().await;
    phone.book().to_records().await;
    phone.records().copy_records().await;
    let copied = phone.clipboard().await;
    // The machine, the usual shift, the start, the set-up, the oiling.
    let records: Vec<serde_json::Value> = copied
        .lines()
        .map(|line| serde_json::from_str(line).unwrap_or_default())
        .collect();
    assert_eq!(records.len(), 5, "{copied}");
    assert!(records.iter().all(serde_json::Value::is_array), "{copied}");
}

//! The invented district: whoever wants to look round finds a shift that runs, sees on every screen that nothing of it is
//! real, leaves with one tap, and finds the phone's own records as they were.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn from_the_first_start_one_tap_leads_into_a_running_shift_and_one_tap_out_again() {
    let site = Site::open();
    let phone = Phone::at("2027-02-11", "10:03").await;
    phone.open(&site).await;
    phone.first_start().see().await;
    let district = phone.district();
    district.look_round().await;
    district.see().await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    let shift = phone.shift();
    shift.see_head("1 of 3 oiled").await;
    shift.card_once("ahead", "0:07").await;
    phone.picture("district-shift").await;
    phone.tabs().book().await;
    district.see().await;
    let lately = ["2027-02-11, 07:30 to 16:00", "2027-02-10, 07:00 to 15:30"];
    phone.book().see_last_shifts(&lately).await;
    phone.row().open().await;
    district.see().await;
    phone.picture("district-row").await;
    district.leave().await;
    phone.first_start().see().await;
    district.see_none().await;
    assert_eq!(phone.app().records_kept().await, Vec::<String>::new());
    assert_eq!(phone.app().kept_for_this_window().await, 0);
}

#[tokio::test]
async fn what_is_done_in_the_invented_district_leaves_records_and_preferences_as_they_were() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.shift().to_closing().await;
    phone.checklist().end_the_shift().await;
    phone.tabs().machine().await;
    phone.machine().see().await;
    let (app, district) = (phone.app(), phone.district());
    let (records, preferences) = (app.records_kept().await, app.preferences_kept().await);

    district.look_round().await;
    district.see().await;
    let shift = phone.shift();
    shift.see_head("1 of 3 oiled").await;
    shift.press().await;
    phone.notices().see_kept("sockets oiled").await;
    shift.see_head("2 of 3 oiled").await;
    shift.write_note().await;
    phone.note().write("Nobody wrote this").await;
    phone.note().keep().await;
    phone.notices().see_kept("note").await;
    phone.tabs().machine().await;
    phone.machine().units("Feet, °F").await;
    phone.machine().name_it("Another name").await;
    phone.machine().keep().await;
    phone.tabs().see_machine("Another name").await;
    for place in ["reminders", "records", "tables", "erase"] {
        phone.go_to(&format!("{}#{place}", site.address())).await;
        app.see_heading("Invented district").await;
    }

    // A phone that drops the page and loads it again returns to the district, and to its beginning.
    phone.reload().await;
    district.see().await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    // It shows how it would ring.
    phone.clock_moves_to("07:00").await;
    phone.alarm().see("Now due at 06:55").await;
    phone.alarm().see_no_sound("rings without sound").await;
    phone.picture("district-alarm").await;

    district.leave().await;
    phone.tabs().see_machine("My grader").await;
    phone.machine().see().await;
    assert_eq!(app.records_kept().await, records);
    assert_eq!(app.preferences_kept().await, preferences);
    assert_eq!(app.kept_for_this_window().await, 0);
}

#[tokio::test]
async fn while_a_shift_runs_nobody_looks_round_and_it_rings_as_ever() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.tabs().machine().await;
    phone.district().see_not_now("its oilings must ring").await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().see("Now due at 07:00").await;
}

#[tokio::test]
async fn a_window_in_the_district_and_one_at_work_know_nothing_of_each_other() {
    let site = Site::open();
    let mut phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.tabs().machine().await;
    phone.district().look_round().await;
    phone.district().see().await;
    phone.open_another_tab(&site).await;
    phone.district().see_none().await;
    phone.tabs().shift().await;
    phone.start().see().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    let records = phone.app().records_kept().await;
    phone.bring_tab(0).await;
    phone.shift().see_head("1 of 3 oiled").await;
    phone.shift().press().await;
    phone.notices().see_kept("sockets oiled").await;
    phone.bring_tab(1).await;
    phone.shift().see_title("Choose today’s work").await;
    assert_eq!(phone.app().records_kept().await, records);
}

#[tokio::test]
async fn the_district_is_there_without_a_network() {
    let mut site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.district().look_round().await;
    phone.district().see().await;
    phone.shift().see_head("1 of 3 oiled").await;
    phone.district().leave().await;
    phone.first_start().see().await;
}

//! What leads into the app from outside, and what the app shows of itself there: shortcuts, shared files and texts, the
//! home screen, the number on the icon, the page before the app, the news, the version.

use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::oddity::Oddity;
use evenrow_browser_tests::server::Site;

async fn shortcut(phone: &Phone, site: &Site, which: &str) {
    phone.go_to(&format!("{}#do/{which}", site.address())).await;
}

#[tokio::test]
async fn every_shortcut_of_the_manifest_leads_to_its_place_and_says_what_stands_in_its_way() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    let manifest = phone.app().manifest().await;
    let urls = manifest["shortcuts"].as_array().expect("shortcuts").iter();
    let urls: Vec<_> = urls.filter_map(|it| it["url"].as_str()).collect();
    assert_eq!(urls, ["./#do/start", "./#do/oiled", "./#do/note"]);

    for which in ["start", "oiled", "note"] {
        shortcut(&phone, &site, which).await;
        phone.first_start().see().await;
        phone
            .notices()
            .see_told("First answer the three questions")
            .await;
    }
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    for which in ["oiled", "note"] {
        shortcut(&phone, &site, which).await;
        phone.start().see().await;
        phone.notices().see_told("No shift runs").await;
    }
    // What the first start has kept can be undone for ten seconds.
    phone.time_passes(Duration::from_secs(10)).await;
    shortcut(&phone, &site, "start").await;
    phone.start().see().await;
    phone.notices().see_nothing_to_undo().await;

    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    shortcut(&phone, &site, "oiled").await;
    phone.notices().see_told("Choose today’s work first").await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    let planned = ["planned", "planned", "planned"];
    phone.shift().see_drops(&planned).await;
    shortcut(&phone, &site, "start").await;
    phone.notices().see_told("A shift runs already").await;
    shortcut(&phone, &site, "note").await;
    phone.note().see().await;

    // Nothing is noted by the shortcut itself, only by the tap that it leads to.
    shortcut(&phone, &site, "oiled").await;
    phone.notices().see_told("Nothing is noted yet").await;
    phone.shift().see_drops(&planned).await;
    phone.picture("shortcut-oiled").await;
    phone.time_passes(Duration::from_secs(1)).await;
    phone.outside().see_focus_on_the_large_button().await;
    phone.shift().press().await;
    phone.notices().see_kept("sockets oiled").await;
    // And Back does not run it once more.
    phone.back().await;
    phone.note().see().await;
}

#[tokio::test]
async fn a_backup_shared_with_the_app_shows_what_it_would_bring_and_lies_nowhere_afterwards() {
    let mut site = Site::open();
    let mut phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    let season = include_str!("../../journals/season.jsonl");
    let kept = phone.app().kept().await;
    phone.is_shared(&site, "file", season).await;
    phone.app().see_heading("Records").await;
    let preview = phone.records().preview("").await;
    assert!(preview.contains(&"Shifts: 30".to_owned()), "{preview:?}");
    phone.picture("shared-file").await;
    assert_eq!(phone.app().kept().await, kept);
    // Asked for again, there is nothing.
    phone.time_passes(Duration::from_secs(10)).await;
    shortcut(&phone, &site, "shared").await;
    phone.notices().see_told("did not arrive").await;
    // A message that holds records is a file as well.
    let line = season.lines().nth(1).expect("a line");
    phone.is_shared(&site, "text", line).await;
    phone.app().see_heading("Records").await;
    phone.records().preview("").await;
}

#[tokio::test]
async fn a_text_shared_with_the_app_waits_as_a_note() {
    let site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.app().in_charge_of_itself().await;
    let text = "Alder Loop: culvert marked at km 4";
    phone.is_shared(&site, "text", text).await;
    phone.notices().see_told("The text waits as a note").await;
    phone.start().start().await;
    phone.shift().see().await;
    phone.is_shared(&site, "text", "and at km 7").await;
    phone.note().see_text(&format!("{text}\nand at km 7")).await;
    phone.note().keep().await;
    phone.notices().see_kept("note").await;
}

#[tokio::test]
async fn where_the_browser_offers_it_the_app_goes_to_the_home_screen_by_a_button() {
    let site = Site::open();
    let mut phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.is_odd(Oddity::OffersTheHomeScreen).await;
    phone.go_to(&format!("{}#install", site.address())).await;
    phone.reload().await;
    phone.outside().to_the_home_screen().await;
    assert_eq!(phone.times_offered().await, 1);
    phone.outside().see_no_offer().await;
}

#[tokio::test]
async fn the_number_on_the_icon_goes_with_the_oiling_and_with_the_shift() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.is_odd(Oddity::BadgeInSight).await;
    beginnings::it_knows_its_machine(&phone, &site).await;
    beginnings::a_shift_on_gravel_is_started(&phone).await;
    phone.is_out_of_sight(true).await;
    phone.see_badge(0).await;
    phone.clock_moves_to("07:00").await;
    phone.see_badge(1).await;
    // Oiled in another window, while this one stays out of sight.
    phone.open_another_tab(&site).await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    phone.bring_tab(0).await;
    phone.see_badge(0).await;

    // The shift ends in another window.
    phone.bring_tab(1).await;
    phone.is_out_of_sight(true).await;
    phone.clock_moves_to("09:40").await;
    // The window that is left is the other one, which is out of sight as well.
    phone.bring_tab(0).await;
    phone.see_badge(1).await;
    phone.bring_tab(1).await;
    phone.is_out_of_sight(false).await;
    phone.alarm().again_in(15).await;
    phone.shift().to_closing().await;
    phone.checklist().end_the_shift().await;
    phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    phone.bring_tab(0).await;
    phone.see_badge(0).await;
}

#[tokio::test]
async fn before_the_app_is_there_the_page_shows_what_was_last_known() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    // Or it would answer from its own copy, program and all.
    phone.is_odd(Oddity::NoWorker).await;
    phone.program_arrives(false).await;
    phone.open_in_vain(&site).await;
    phone
        .outside()
        .see_before_the_app("Evenrow keeps the row of teeth turning")
        .await;
    phone.picture("before-the-first-start").await;
    phone.program_arrives(true).await;
    phone.reload().await;
    phone.first_start().answer_as_most_do().await;
    beginnings::a_shift_on_gravel_is_started(&phone).await;

    phone.program_arrives(false).await;
    phone.open_in_vain(&site).await;
    phone.outside().see_before_the_app("Oil the sockets").await;
    phone.outside().see_before_the_app("07:00").await;
    assert_eq!(phone.outside().machine_before_the_app().await, "My grader");
    phone.picture("before-the-app").await;
}

#[tokio::test]
async fn after_an_update_the_news_are_told_once_and_can_be_read_again() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.first_start().see().await;
    // To whoever has just come, nothing is new.
    phone.version().read_up_to().await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    phone.version().see_nothing_new().await;

    phone.version().was_read_up_to("2026-01-01").await;
    phone.reload().await;
    phone.version().see_new("The app shows your machine").await;
    phone.picture("news").await;
    // A form that has been begun comes first.
    phone.start().times().end_at("16:00").await;
    phone.reload().await;
    phone.start().see().await;
    phone.version().see_nothing_new().await;
    phone.start().start().await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    phone.version().see_new("The app shows your machine").await;
    // So does an alarm.
    phone.clock_moves_to("07:00").await;
    phone.alarm().see("Now").await;
    phone.version().see_nothing_new().await;
    phone.alarm().done().await;
    phone.version().see_new("The app shows your machine").await;
    phone.version().understood().await;
    phone.reload().await;
    phone.shift().see().await;
    phone.version().see_nothing_new().await;
    phone.tabs().machine().await;
    phone.version().open().await;
}

#[tokio::test]
async fn the_version_page_says_which_build_it_is_and_whose_work_is_in_it_without_a_network() {
    let mut site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.tabs().machine().await;
    let version = phone.version();
    version.open().await;
    let said = version.said().await;
    let build = said.rsplit(' ').next().unwrap_or_default();
    assert!(
        said.starts_with("Evenrow 0.1.0, build ") && build.len() == 16,
        "{said}"
    );
    assert!(20 < version.texts().await);
    version.see_terms("Evenrow", "The Evenrow authors").await;
    version
        .see_terms("any_spawner", "brings no text of its own")
        .await;
    version
        .see_terms("base64", "Permission is hereby granted")
        .await;
}

//! The first minutes with the app: it says what it is for without standing in the way, every word of the trade can be asked
//! for, and the way to the home screen is shown.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn three_steps_say_what_it_is_for_and_the_questions_are_one_tap_away() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    let first = phone.first_start();
    first.see_step(1, "each must turn in its socket").await;
    phone.picture("first-step-1").await;
    first.to_the_questions().await;
    first.see_focus_on_the_questions().await;
    first.next_step().await;
    first.see_step(2, "when the next oiling is due").await;
    phone.picture("first-step-2").await;
    first.next_step().await;
    first.see_step(3, "Everything stays on this phone").await;
    phone.picture("first-step-3").await;
    first.step_before().await;
    first.see_step(2, "when the next oiling is due").await;
    first.next_step().await;
    first.to_install().await;
    phone.app().see_heading("Put it on the home screen").await;
    phone.home_screen().see_steps(7).await;
    phone.picture("install").await;
    phone.back().await;
    first.answer_as_most_do().await;
    phone.start().see().await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

#[tokio::test]
async fn every_word_of_the_trade_has_a_sentence_and_a_drawing_without_a_network() {
    let mut site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.reload().await;
    let (first, words) = (phone.first_start(), phone.words());
    first.see().await;
    words.ask("Moldboard").await;
    words.see_one("Moldboard", "The long curved blade").await;
    phone.picture("term").await;
    words.to_all().await;
    assert_eq!(words.see_all().await, (39, 39));
    phone.picture("terms").await;
    phone.back().await;
    phone.back().await;
    first.answer_as_most_do().await;
    phone.start().see().await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

#[tokio::test]
async fn the_words_on_the_sheet_and_on_the_row_can_be_asked_for() {
    let site = Site::open();
    let phone = beginnings::a_shift_without_work(&site).await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    let words = phone.words();
    words.ask("Grading angle").await;
    words.see_one("Grading angle", "always under 80°").await;
    phone.back().await;
    phone.sheet().see_verdict("suits", "Suits this edge").await;
    phone.row().open().await;
    words.ask("Blade-hours").await;
    words.see_one("Blade-hours", "breaks taken out").await;
    phone.tabs().machine().await;
    phone.machine().see().await;
}

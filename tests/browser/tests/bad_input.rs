//! Whatever is typed or tapped wrongly: a sentence says what is wrong and what would be right, and nothing typed is gone.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn a_board_that_is_missing_or_cannot_be_right_is_refused_with_a_sentence_that_says_what_is_right()
 {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    let (first, notices) = (phone.first_start(), phone.notices());
    first.see().await;

    first.ready().await;
    first
        .see_wrong("The length of the moldboard is missing. Pick one")
        .await;

    first.another_board("twelve").await;
    first.ready().await;
    first
        .see_wrong("That is not a length. Type it in metres with digits, such as 4.27.")
        .await;
    assert_eq!(first.another_board_typed().await, "twelve");

    for (typed, sentence) in [
        (
            "0",
            "A moldboard of 0 m cannot be right. It must be 1.2 m to 8 m long.",
        ),
        (
            "40",
            "A moldboard of 40 m cannot be right. It must be 1.2 m to 8 m long.",
        ),
    ] {
        first.another_board(typed).await;
        first.ready().await;
        notices.see_trouble(sentence).await;
        assert_eq!(first.another_board_typed().await, typed);
        notices.understood().await;
    }

    // A comma is as good as a point.
    first.another_board("4,27").await;
    first.ready().await;
    phone.start().see().await;
}

#[tokio::test]
async fn a_shift_that_cannot_be_is_refused_with_a_sentence_that_says_what_is_right() {
    let site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    let (start, times, notices) = (phone.start(), phone.start().times(), phone.notices());

    times.end_at("half three").await;
    times
        .see_wrong_end("That is no time of day. Type hours and minutes, such as 07:30.")
        .await;

    times.end_at("06:30").await;
    start.start().await;
    notices
        .see_trouble("The shift would end at 06:30, before it starts at 07:00. Set a later end, or “next day”.")
        .await;
    times
        .see("07:00", "06:30", "same day", "30 min", "11:00")
        .await;
    notices.understood().await;

    times.start_at("06:00").await;
    times.end_at("12:00").await;
    times.ends("next day").await;
    start.start().await;
    notices
        .see_trouble("The shift would last 30 h. Set an end within 24 h of its start.")
        .await;
    times
        .see("06:00", "12:00", "next day", "30 min", "11:00")
        .await;
    notices.understood().await;

    times.start_at("07:00").await;
    times.end_at("15:30").await;
    times.ends("same day").await;
    times.break_at("16:00").await;
    start.start().await;
    notices
        .see_trouble(
            "The break from 16:00 to 16:30 lies outside the shift. Move it inside, or set none.",
        )
        .await;
    times
        .see("07:00", "15:30", "same day", "30 min", "16:00")
        .await;
    notices.understood().await;

    times.end_at("07:10").await;
    times.break_is("None").await;
    start.start().await;
    notices
        .see_trouble("has 10 min of work. Leave at least 15 min.")
        .await;

    // None of them has been started.
    phone.tabs().book().await;
    phone.book().see_shifts(&[]).await;
}

#[tokio::test]
async fn no_second_shift_can_be_started_while_one_runs_not_even_from_a_tab_that_slept() {
    let site = Site::open();
    let mut phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.open_another_tab(&site).await;
    phone.start().see().await;
    phone.freeze_this_tab().await;

    phone.bring_tab(0).await;
    phone.start().start().await;
    phone.shift().see().await;
    assert!(!phone.start().is_offered().await);

    phone.bring_tab(1).await;
    phone.wake_this_tab().await;
    phone.shift().see().await;
    assert!(!phone.start().is_offered().await);
    for tab in [0, 1] {
        phone.bring_tab(tab).await;
        phone.tabs().book().await;
        phone
            .book()
            .see_shifts(&["2026-07-01, 07:00 to 15:30"])
            .await;
    }
}

#[tokio::test]
async fn a_tab_that_heard_of_nothing_starts_no_second_shift() {
    let site = Site::open();
    let mut phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    phone.open_another_tab(&site).await;
    phone.deafen_this_tab().await;
    phone.start().see().await;
    phone.bring_tab(0).await;
    phone.start().start().await;
    phone.shift().see().await;

    phone.bring_tab(1).await;
    phone.start().start().await;
    phone
        .notices()
        .see_trouble("A shift has been running since 07:00. End that one first.")
        .await;
    phone.shift().see().await;
    phone.tabs().book().await;
    phone
        .book()
        .see_shifts(&["2026-07-01, 07:00 to 15:30"])
        .await;
}

#[tokio::test]
async fn an_empty_note_is_refused_and_a_long_one_keeps_its_text() {
    let site = Site::open();
    let phone = beginnings::a_shift_without_work(&site).await;
    let (note, notices) = (phone.note(), phone.notices());
    phone.shift().write_note().await;
    note.see().await;
    note.keep().await;
    notices
        .see_trouble("The note is empty. Type something, or go back to the shift.")
        .await;
    notices.understood().await;
    note.write("   ").await;
    note.keep().await;
    notices.see_trouble("The note is empty.").await;
    notices.understood().await;

    let long = "x".repeat(2001);
    note.write(&long).await;
    note.keep().await;
    notices
        .see_trouble("The note has 2001 characters. Make it 2000 or fewer, or write two.")
        .await;
    note.see_text(&long).await;
}

#[tokio::test]
async fn a_look_that_names_no_tooth_or_more_than_the_row_has_is_refused() {
    let site = Site::open();
    let phone = beginnings::a_shift_on_gravel(&site).await;
    let (look, notices) = (phone.look(), phone.notices());
    phone.shift().some_are_not().await;
    look.see().await;
    look.keep().await;
    notices
        .see_trouble("No tooth is named. Set at least one count, or go back and tap “All turning”.")
        .await;
    notices.understood().await;

    look.count_fast("Stiff", 90).await;
    look.more("Stuck", 6).await;
    look.more("Broken or gone", 1).await;
    look.keep().await;
    notices
        .see_trouble(
            "97 teeth are named, but the row has 96. Set the counts to 96 or fewer together.",
        )
        .await;
    look.see_count("Stiff", "90").await;
    notices.understood().await;

    look.fewer("Broken or gone", 1).await;
    look.keep().await;
    notices.see_kept("90 stiff, 6 stuck").await;
    phone.shift().see_looks_on_the_line(1).await;
}

#[tokio::test]
async fn a_machine_without_a_name_is_refused_and_the_rest_of_the_form_stays() {
    let site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    let machine = phone.machine();
    phone.tabs().machine().await;
    machine.see().await;
    machine.name_it(" ").await;
    machine.board("14 ft (4.27 m)").await;
    machine.keep().await;
    phone
        .notices()
        .see_trouble("The machine has no name. Type one, such as its number.")
        .await;
    phone.notices().understood().await;
    phone.tabs().see_machine("My grader").await;
    machine.name_it("Pine Ridge 2").await;
    machine.keep().await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    machine.see_row("104 teeth in a full row").await;
}

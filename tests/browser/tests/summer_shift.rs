//! A summer shift on gravel, from the first start to the report, as an operator lives it.

use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn a_shift_on_gravel_and_milling_ends_in_a_report_that_tells_it_all() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;

    // First start, the machine’s true name, then the shift.
    phone.picture("first").await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    phone.tabs().machine().await;
    phone.machine().name_it("Pine Ridge 2").await;
    phone.machine().keep().await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    phone.tabs().shift().await;
    phone.start().see().await;
    phone.picture("start").await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    phone.shift().see_head("No work chosen yet").await;
    phone.picture("shift-without-work").await;

    // The work, its questions, its sheet.
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    let sheet = phone.sheet();
    sheet.answer("How is the ground?", "Dry and dusty").await;
    sheet.see_verdict("suits", "Suits this edge").await;
    sheet.see_line("Cutting angle", "50° (47° to 53°)").await;
    let why = sheet.reasons_of("Cutting angle").await;
    assert_eq!(
        why[0].text,
        "About 50° puts the most carbide on the surface."
    );
    assert_eq!(why[0].basis, "common practice");
    assert_eq!(why[1].text, "Anything from 47° to 53° will do.");
    assert_eq!(why[1].basis, "house default");
    sheet.see_line("Oil", "3 times a shift").await;
    let why = sheet.reasons_of("Oil").await;
    assert_eq!(
        why[0].text,
        "Dust works into the sockets: three, because you said dusty."
    );
    assert_eq!(why[0].basis, "house default");
    assert_eq!(why[1].text, "Gravel: two or three times a shift.");
    assert_eq!(why[1].basis, "common practice");
    phone.picture("sheet-gravel").await;
    sheet.use_it().await;

    // Three oilings are planned; the first comes before work starts.
    let shift = phone.shift();
    shift.see_head("Gravel, top layer").await;
    shift.see_drops(&["planned", "planned", "planned"]).await;
    let card = shift.card_once("ahead", "0:15").await;
    assert_eq!(
        (card.title.as_str(), card.small.as_str()),
        ("Oil the sockets", "at 07:00")
    );

    // The opening checklist.
    shift.to_opening().await;
    let list = phone.checklist();
    list.see("Opening checklist").await;
    assert_eq!(list.items().await.len(), 8);
    list.tick_all().await;
    phone.picture("opening").await;
    list.back_to_the_shift().await;
    shift.see_opening("8 of 8").await;

    // Oil at seven, on time; look at twenty past eight; oil at twenty to ten.
    phone.clock_moves_to("07:00").await;
    assert_eq!(shift.card_once("due", "Now").await.small, "due at 07:00");
    phone.alarm().see("due at 07:00").await;
    phone.picture("alarm-due").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    shift.see_drops(&["done", "planned", "planned"]).await;
    phone.clock_moves_to("08:20").await;
    shift.all_turning().await;
    phone.notices().see_kept("all teeth turning").await;
    shift.see_looks_on_the_line(1).await;
    shift.see_next_look("in 1:20").await;
    phone.clock_moves_to("09:40").await;
    phone.alarm().done().await;
    shift.see_drops(&["done", "done", "planned"]).await;
    assert_eq!(shift.card_once("ahead", "3:10").await.small, "at 12:50");
    phone.picture("shift-on-time").await;

    // A break from eleven to half past.
    phone.clock_moves_to("11:00").await;
    shift.start_break().await;
    shift.see_title("On break").await;
    phone.clock_moves_to("11:30").await;
    assert_eq!(
        shift.card_once("ahead", "0:30").await.button,
        "Back to work"
    );
    phone.picture("shift-on-break").await;
    shift.press().await;
    shift.see_title("Oil the sockets").await;
    shift.card_once("ahead", "1:20").await;

    // The third falls due at ten to one and is done twenty minutes late.
    phone.clock_moves_to("12:50").await;
    shift.card_once("due", "Now").await;
    shift.see_drops(&["done", "done", "wanting"]).await;
    phone.clock_moves_to("13:10").await;
    phone.tabs().see_clock("13:10").await;
    let card = shift.card_once("late", "0:20").await;
    assert_eq!(
        (card.word.as_str(), card.small.as_str()),
        ("Late", "due at 12:50")
    );
    assert_eq!(card.button, "Oiled now");
    phone.alarm().see("0:20").await;
    phone.picture("alarm-late").await;
    phone.alarm().done().await;
    shift.see_drops(&["done", "done", "done-late"]).await;
    shift.see_head("3 of 3 oiled, 1 late").await;
    let told = shift.line_told().await;
    assert_eq!(told, "3 of 3 oilings done, shift from 07:00 to 15:30");

    // The work changes to milling, on a surface that is too cool for full width.
    phone.clock_moves_to("13:20").await;
    shift.change_work().await;
    phone.setup().choose("Milling soft surfacing").await;
    sheet.raise("How warm is the surface?", 3).await;
    sheet.see_number("How warm is the surface?", "12 °C").await;
    sheet
        .answer("Is the surfacing soft (oil-bound, thin seal)?", "Soft")
        .await;
    sheet.see_verdict("with-care", "With care").await;
    sheet.see_line("Plates", "no. 4 of 4, 24 teeth").await;
    sheet
        .see_line("Teeth", "narrow flange, pointed; else wide flange, pointed")
        .await;
    let why = sheet.reasons_of_the_verdict().await;
    assert_eq!(
        why[0].text,
        "The surface is at 12 °C; full width wants 15 °C or more."
    );
    assert_eq!(why[0].basis, "common practice");
    phone.picture("sheet-milling").await;
    sheet.use_it().await;
    shift.see_head("Milling soft surfacing").await;

    // A note, the closing checklist, and the end.
    shift.write_note().await;
    let note = "Alder Loop from the bridge to the pit: soft shoulder, come back after rain";
    phone.note().write(note).await;
    phone.note().keep().await;
    phone.notices().see_kept("note").await;
    phone.clock_moves_to("15:30").await;
    shift.to_closing().await;
    list.see("Closing checklist").await;
    assert_eq!(list.items().await.len(), 6);
    for item in 0..5 {
        list.tick(item).await;
    }
    list.see_open("1 still open").await;
    phone.picture("closing").await;
    list.end_the_shift().await;

    // The report tells it all, on the screen and on the clipboard.
    let report = phone
        .report()
        .read("Shift report: Pine Ridge 2, 2026-07-01")
        .await;
    for told in [
        "Machine: Pine Ridge 2, moldboard 3.66 m",
        "Planned: 07:00 to 15:30",
        "Ended: 15:30",
        "Working time: 8 h",
        "Break: 11:00 to 11:30",
        "06:45: Gravel, top layer (Suits this edge): teeth wide flange, pointed; plates all 4, 96 teeth; cutting angle 50°",
        "13:20: Milling soft surfacing (With care): teeth narrow flange, pointed; plates no. 4 of 4, 24 teeth; cutting angle 50°",
        "3 fell due: 2 on time, 1 late, 0 missed",
        "Due 07:00: oiled 07:00",
        "Due 12:50: oiled 13:10, 20 min LATE",
        "08:20: all teeth turning",
        "8 of 8 ticked",
        "5 of 6 ticked",
        "Not ticked: What the next operator must know is written down",
        note,
    ] {
        assert!(
            report.contains(told),
            "the report does not say {told:?}:\n{report}"
        );
    }
    phone.picture("report").await;
    phone.report().copy().await;
    let copied = phone.clipboard().await;
    let lines = |text: &str| -> Vec<String> {
        let told = text
            .lines()
            .map(|line| line.trim_start_matches("- ").trim().to_owned());
        told.filter(|line| !line.is_empty()).collect()
    };
    assert_eq!(lines(&copied), lines(&report));
}

#[tokio::test]
async fn an_oiling_can_be_taken_back_for_ten_seconds_and_no_longer() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let (shift, notices) = (phone.shift(), phone.notices());
    shift.see_drops(&["planned", "planned", "planned"]).await;

    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    notices.see_kept("sockets oiled").await;
    shift.see_drops(&["done", "planned", "planned"]).await;
    notices.undo().await;
    shift.see_drops(&["wanting", "planned", "planned"]).await;
    phone.alarm().see("due at 07:00").await;
    notices.see_nothing_to_undo().await;

    phone.alarm().done().await;
    notices.see_kept("sockets oiled").await;
    phone.time_passes(Duration::from_secs(9)).await;
    notices.see_kept("sockets oiled").await;
    phone.time_passes(Duration::from_secs(1)).await;
    notices.see_nothing_to_undo().await;
    shift.see_drops(&["done", "planned", "planned"]).await;
}

#[tokio::test]
async fn sockets_oiled_in_a_break_count_and_the_break_goes_on() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let shift = phone.shift();
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    shift.see_drops(&["done", "planned", "planned"]).await;
    phone.clock_moves_to("09:30").await;
    shift.start_break().await;
    shift.see_title("On break").await;
    phone.clock_moves_to("09:40").await;
    phone.alarm().done().await;
    shift.see_drops(&["done", "done", "planned"]).await;
    let card = shift.card_once("ahead", "0:10").await;
    assert_eq!(
        (card.title.as_str(), card.button.as_str()),
        ("On break", "Back to work")
    );
}

#[tokio::test]
async fn stuck_teeth_bring_the_oilings_closer_until_two_looks_find_all_turning() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let shift = phone.shift();
    shift.see_usual_oilings().await;
    shift.some_are_not().await;
    phone.look().more("Stuck", 1).await;
    phone.look().keep().await;
    shift.see_oilings_come_closer().await;
    for looks in [2, 3] {
        shift.see_oilings_come_closer().await;
        phone.time_passes(Duration::from_mins(5)).await;
        shift.all_turning().await;
        shift.see_looks_on_the_line(looks).await;
    }
    shift.see_usual_oilings().await;
}

//! The book over time: reports that name who and go on one sheet of paper, the sums of a season with what they cost, whether
//! oiling helps, and what the next season asks for.

use evenrow_browser_tests::beginnings::{
    a_phone_that_knows_its_machine, a_season_has_been_kept, a_shift_on_gravel,
};
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::oddity::Oddity;
use evenrow_browser_tests::server::Site;

/// Width and height in millimetres: ISO 216, and 8.5 by 11 inches.
const PAPERS: [(f64, f64); 2] = [(210.0, 297.0), (215.9, 279.4)];

async fn after_a_season(site: &Site) -> Phone {
    // The records come from a district nine hours behind this phone: the last shift was over there.
    let phone = Phone::at("2026-07-25", "17:30").await;
    a_season_has_been_kept(&phone, site).await;
    phone.tabs().book().await;
    phone.book().see().await;
    phone
}

/// A report has dozens of lines; each is a piece of text at least.
const FEWEST_TEXTS: usize = 25;

#[tokio::test]
async fn the_report_of_a_normal_shift_goes_on_one_sheet_of_a4_and_of_letter_by_day_and_by_night() {
    let site = Site::open();
    let phone = after_a_season(&site).await;
    phone.book().open_the_last().await;
    let report = phone.report();
    let told = report.read("Shift report: Pine Ridge 2, 2026-07-24").await;
    assert!(told.contains("Oiling of the sockets"), "{told}");
    for dark in [false, true] {
        phone.system_is_dark(dark).await;
        for paper in PAPERS {
            let sheets = phone.prints_on(paper).await;
            assert_eq!(sheets.len(), 1, "{paper:?}, dark: {dark}");
            assert!((sheets[0].size.0 - paper.0).abs() < 1.0, "{paper:?}");
            assert!(FEWEST_TEXTS <= sheets[0].texts, "{}", sheets[0].texts);
        }
    }
}

#[tokio::test]
async fn who_worked_is_typed_once_kept_through_a_reload_and_offered_for_the_next_shift() {
    let site = Site::open();
    let phone = after_a_season(&site).await;
    phone.book().open_the_last().await;
    let report = phone.report();
    report.read("2026-07-24").await;
    report.keep_who().await;
    phone.notices().see_trouble("No name was typed.").await;
    report.type_who("R. Fir").await;
    phone.reload().await;
    report.see_who("R. Fir").await;
    report.keep_who().await;
    phone.notices().see_kept("name kept: R. Fir").await;
    report.see_line("Worked by: R. Fir").await;
    phone.tabs().book().await;
    phone.book().open("2026-07-23, 07:00 to 15:30").await;
    let told = report.read("2026-07-23").await;
    assert!(!told.contains("Worked by"), "{told}");
    report.see_who("R. Fir").await;
}

#[tokio::test]
async fn a_report_tells_the_roads_that_were_done_the_teeth_that_were_replaced_and_what_was_measured()
 {
    let site = Site::open();
    let mut phone = a_shift_on_gravel(&site).await;
    phone.tabs().setup().await;
    let plan = phone.plan();
    plan.open().await;
    plan.add().await;
    plan.form().fill("Name of the road", "Alder Loop").await;
    plan.form().fill("Length in km", "4").await;
    plan.form()
        .fill("Width of the road in metres, if known", "6")
        .await;
    plan.form().keep().await;
    plan.see_when("Alder Loop", " h").await;
    phone.clock_moves_to("10:00").await;
    phone.alarm().done().await;
    plan.tick("Alder Loop", true).await;
    phone.tabs().book().await;
    phone.book().open_the_last().await;
    let report = phone.report();
    report
        .see_line("07:00 to 10:00: Alder Loop, Gravel, top layer, 4 km, 6 m wide")
        .await;
    report.see_line("Against the plan: ").await;
    report.see_line("None replaced, none measured").await;

    // From here the sums: three hours of Alder Loop.
    phone.tabs().book().await;
    phone.book().open_the_books().await;
    phone.books().sums_for("Road").await;
    phone
        .books()
        .see_part("Alder Loop", "Blade-hours: 3 h")
        .await;
    phone.books().see_part("Alder Loop", "4 km, 24000 m²").await;
    phone.tabs().book().await;
    phone.book().open_the_season().await;
    phone.season().see_answer("Add the roads").await;
    phone.season().add_known("Add Alder Loop").await;
    // The machine has no set yet.
    phone.season().see_answer("No set was ever").await;
}

#[tokio::test]
async fn the_print_button_opens_the_dialog_of_the_browser() {
    let site = Site::open();
    let mut phone = after_a_season(&site).await;
    phone.is_odd(Oddity::PrintsAreCounted).await;
    phone.reload().await;
    phone.book().open_the_last().await;
    phone.report().print().await;
    assert_eq!(phone.asked_to_print().await, 1);
}

/// By hand: thirty shifts of eight hours; five of them in the last week, eighteen in July.
#[tokio::test]
async fn the_books_of_a_season_add_up_by_week_month_and_work_and_say_that_oiling_helps() {
    let site = Site::open();
    let phone = after_a_season(&site).await;
    phone.book().open_the_books().await;
    let books = phone.books();
    books.time("This season").await;
    books.see_whole("Blade-hours: 240 h").await;
    books.sums_for("Work").await;
    books.see_chart("Gravel, top layer 240 h").await;
    books
        .see_part("Gravel, top layer", "Blade-hours: 240 h")
        .await;
    books.see_help("It does.").await;
    assert_eq!(books.pictures().await, 2);
    phone.picture("books-season").await;
    books.time("This month").await;
    books.see_whole("Blade-hours: 144 h").await;
    books.time("This week").await;
    books.see_whole("Blade-hours: 40 h").await;
    // What is looked at stays so.
    phone.reload().await;
    books.see_whole("Blade-hours: 40 h").await;
    books.see_help("The records cannot tell yet").await;
    assert_eq!(books.pictures().await, 1);
}

#[tokio::test]
async fn prices_are_the_operators_own_kept_as_typed_and_say_what_an_hour_costs() {
    let site = Site::open();
    let phone = after_a_season(&site).await;
    phone.book().open_the_books().await;
    let books = phone.books();
    books.see_whole("Type your prices below").await;
    books.open_the_prices().await;
    books
        .fill("Name of the money, may stay empty", "crowns")
        .await;
    books.fill("One new tooth", "ten").await;
    books.fill("One litre of oil", "2").await;
    books.fill("Litres of oil for one oiling", "0.5").await;
    books.keep_the_prices().await;
    books.see_wrong("That is not a number.").await;
    phone.reload().await;
    books.open_the_prices().await;
    books.see_field("One new tooth", "ten").await;
    books.fill("One new tooth", "10").await;
    books.keep_the_prices().await;
    phone.notices().see_kept("prices").await;
    books.see_whole("crowns an hour").await;
    phone.reload().await;
    books.see_whole("crowns an hour").await;
}

#[tokio::test]
async fn a_season_is_planned_by_roads_and_visits_and_says_what_to_order_by_when() {
    let site = Site::open();
    let phone = after_a_season(&site).await;
    phone.book().open_the_season().await;
    let season = phone.season();
    season.see_answer("Add the roads with their visits.").await;
    season.add("Alder Loop", "often").await;
    season.see_wrong("That is not a number of hours.").await;
    season.add("Alder Loop", "100").await;
    season.see_answer("100 h to work").await;
    season.raise("Visits to Alder Loop", 3).await;
    season.see_number("Visits to Alder Loop", "4").await;
    season.see_answer("400 h to work").await;
    season.see_answer("520 h available; 120 h to spare").await;
    season.see_answer("teeth by 2026-").await;
    phone.picture("season").await;
    // Half of the weeks are not enough.
    season.lower("Weeks", 6).await;
    season.see_answer("280 h available; 120 h missing").await;
    season.raise("First day", 1).await;
    season.see_number("First day", "2026-08-02").await;
    season.keep().await;
    phone.notices().see_kept("season plan").await;
    phone.reload().await;
    season.see_number("Visits to Alder Loop", "4").await;
    season.see_number("First day", "2026-08-02").await;
}

#[tokio::test]
async fn a_phone_without_a_record_says_what_would_be_enough() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().book().await;
    phone.book().open_the_books().await;
    phone.books().see_empty().await;
    phone.tabs().book().await;
    phone.book().open_the_season().await;
    phone.season().add("Alder Loop", "3.5").await;
    phone
        .season()
        .see_answer("measure at least six teeth at two later times")
        .await;
}

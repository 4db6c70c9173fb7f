//! Marks on the frame: the list for the tape, and the strip that comes out of the printer at true scale.

use evenrow_browser_tests::beginnings::a_phone_that_knows_its_machine;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::oddity::Oddity;
use evenrow_browser_tests::paper::Paper;
use evenrow_browser_tests::server::Site;

/// How far the pen reaches into the strip for a mark, in millimetres.
const MARK: f64 = 25.0;

/// A strip holds so many millimetres on each sheet.
const PIECE: f64 = 190.0;

/// As right as the strip has to be, in millimetres.
const TRUE_WITHIN: f64 = 0.5;

async fn with_a_radius(site: &Site, radius: &str) -> Phone {
    let phone = a_phone_that_knows_its_machine(site).await;
    phone.tabs().setup().await;
    phone.marks().open().await;
    phone.marks().radius("Radius in mm", radius).await;
    phone
}

/// Source: identity, arc = pi r a / 180.
fn arc(radius: f64, turned: f64) -> f64 {
    std::f64::consts::PI * radius * turned / 180.0
}

#[track_caller]
fn has_a_true_bar(paper: &Paper) {
    let upright = paper.upright();
    let bars = upright
        .iter()
        .filter(|it| (*it - 100.0).abs() <= TRUE_WITHIN);
    assert_eq!(bars.count(), 1, "the upright lines are {upright:?} mm");
}

/// Source: identity, arc = pi r a / 180, chord = 2 r sin(a / 2): for 450 mm and 5, 10 and 20 degrees in
/// `tests/tables/frame_marks.csv`.
#[tokio::test]
async fn the_list_tells_each_mark_along_the_curve_and_straight_across() {
    let site = Site::open();
    let phone = with_a_radius(&site, "450").await;
    let list = phone.marks().list(7).await;
    let row = |angle: &str, arc: &str, chord: &str| [angle, arc, chord].map(str::to_owned);
    assert_eq!(list[0], row("45°", "0 mm", "0 mm"));
    assert_eq!(list[1], row("50°", "39.3 mm", "39.3 mm"));
    assert_eq!(list[2], row("55°", "78.5 mm", "78.4 mm"));
    assert_eq!(list[4], row("65°", "157.1 mm", "156.3 mm"));
    phone.picture("marks").await;
    // No mark where nobody may grade.
    phone.marks().last_mark_later(2).await;
    phone.marks().see_last_mark("75°").await;
    phone
        .marks()
        .see_limit("No mark at 80° or more: the skew is what turns the teeth.")
        .await;
}

#[tokio::test]
async fn a_strip_on_one_sheet_is_true_to_half_a_millimetre_with_its_bar_by_day_and_by_night() {
    let site = Site::open();
    let phone = with_a_radius(&site, "300").await;
    phone.marks().list(7).await;
    for dark in [false, true] {
        phone.system_is_dark(dark).await;
        let sheets = phone.prints().await;
        assert_eq!(sheets.len(), 1, "dark: {dark}");
        has_a_true_bar(&sheets[0]);
        let marks = sheets[0].level(MARK);
        assert_eq!(marks.len(), 7, "{marks:?}");
        for (at, mark) in (0_u8..).zip(&marks) {
            let expected = arc(300.0, f64::from(at) * 5.0);
            let got = mark - marks[0];
            assert!(
                (got - expected).abs() <= TRUE_WITHIN,
                "{got} for {expected}"
            );
        }
    }
}

#[tokio::test]
async fn a_long_strip_goes_over_several_sheets_and_is_true_once_they_are_joined() {
    let site = Site::open();
    let phone = with_a_radius(&site, "900").await;
    phone.marks().list(7).await;
    let sheets = phone.prints().await;
    // 471.2 mm of marks and ten to hold it by at either end.
    assert_eq!(sheets.len(), 3);
    let mut marks = Vec::new();
    for (sheet, from) in sheets.iter().zip([0.0, PIECE, 2.0 * PIECE]) {
        has_a_true_bar(sheet);
        // The bar begins where the strip does.
        let top = sheet.level(8.0)[0];
        marks.extend(sheet.level(MARK).iter().map(|mark| mark - top + from));
    }
    assert_eq!(marks.len(), 7, "{marks:?}");
    for (at, mark) in (0_u8..).zip(&marks) {
        let expected = arc(900.0, f64::from(at) * 5.0);
        let got = mark - marks[0];
        assert!(
            (got - expected).abs() <= TRUE_WITHIN,
            "{got} for {expected}"
        );
    }
}

#[tokio::test]
async fn a_radius_that_cannot_be_is_refused_and_what_was_typed_is_kept() {
    let site = Site::open();
    let phone = with_a_radius(&site, "wide").await;
    let marks = phone.marks();
    marks
        .see_wrong("That is not a length. Type it in mm with digits, such as 750.")
        .await;
    marks.radius("Radius in mm", "5").await;
    marks
        .see_wrong("A radius of 5 mm cannot be right. It must be 10 mm to 10000 mm.")
        .await;
    phone.reload().await;
    marks.see_radius("Radius in mm", "5").await;
    marks.radius("Radius in mm", "750").await;
    marks.list(7).await;
    marks.last_mark_earlier(7).await;
    marks.see_last_mark("40°").await;
    marks
        .see_wrong("The last mark comes before the first. Set it higher.")
        .await;
}

#[tokio::test]
async fn marks_are_made_in_inches_and_without_a_network() {
    let mut site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().machine().await;
    phone.machine().units("Feet, °F").await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.reload().await;
    phone.tabs().setup().await;
    let marks = phone.marks();
    marks.open().await;
    marks.mark("Cutting angle").await;
    marks.radius("Radius in inches", "10").await;
    let list = marks.list(7).await;
    // Source: identity. Ten inches turned by five degrees are 0.8727 along the curve: fourteen sixteenths.
    assert_eq!(list[1], ["35°", "7/8 in", "7/8 in"].map(str::to_owned));
    let sheets = phone.prints().await;
    let places = sheets[0].level(MARK);
    assert!((places[1] - places[0] - 22.166).abs() <= TRUE_WITHIN);
}

#[tokio::test]
async fn the_button_opens_the_print_dialog_and_a_browser_without_one_says_what_to_do() {
    let site = Site::open();
    let mut phone = with_a_radius(&site, "750").await;
    phone.is_odd(Oddity::PrintsAreCounted).await;
    phone.reload().await;
    phone.marks().print().await;
    assert_eq!(phone.asked_to_print().await, 1);
    phone.is_odd(Oddity::NoPrinting).await;
    phone.reload().await;
    phone.marks().see_that_it_cannot_print().await;
    phone.marks().list(7).await;
}

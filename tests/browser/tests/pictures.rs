//! The edge at work, in pictures: an angle moved by a tap moves picture and numbers at once.

use evenrow_browser_tests::beginnings::{a_phone_that_knows_its_machine, a_shift_on_gravel};
use evenrow_browser_tests::server::Site;

const ACROSS: &str = "Across the road, behind the edge";

/// Source: geometry. 12 ft times the sine of 55 degrees are 2.996 m, of 56 degrees 3.032 m; 38.1 mm times the same are
/// 31.2 and 31.6 mm. The tangent of 50 degrees over the sine of 55 is that of 55.49 degrees.
#[tokio::test]
async fn it_begins_with_the_set_up_in_use_and_each_tap_moves_picture_and_numbers() {
    let mut site = Site::open();
    let phone = a_shift_on_gravel(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.reload().await;
    phone.tabs().setup().await;
    let pictures = phone.pictures();
    pictures.open().await;
    pictures
        .see_lead("Set as on the sheet: Gravel, top layer.")
        .await;
    pictures.see_angle("Cutting angle", "50°").await;
    pictures.see_angle("Grading angle", "55°").await;
    let (end, top) = ("From the end of the board", "From above");
    pictures.see_told(end, "lean back at 50° to the road").await;
    pictures
        .see_note(end, "From the machine’s side it looks like 55°.")
        .await;
    pictures
        .see_told(
            top,
            "At 55° to the direction of travel the board works 3 m of its 3.66 m.",
        )
        .await;
    pictures.see_note(top, "Its tracks lie 31.2 mm apart").await;
    pictures
        .see_told("The row from the cab", "all 4, 96 teeth")
        .await;
    phone.picture("pictures").await;

    let before = (pictures.drawn(end).await, pictures.drawn(top).await);
    pictures.lower("Cutting angle", 8).await;
    pictures.see_told(end, "lean back at 42° to the road").await;
    pictures.raise("Grading angle", 1).await;
    pictures.see_told(top, "works 3.03 m of its 3.66 m").await;
    pictures.see_note(top, "31.6 mm apart").await;
    assert_ne!(pictures.drawn(end).await, before.0);
    assert_ne!(pictures.drawn(top).await, before.1);
}

/// Source: geometry. A point of 120 degrees leaves half the spacing over the root of three: 31.21 mm and 9.0 mm. Half
/// worn, 7.5 mm less. Two passes halve the spacing: 15.6 and 4.5 mm.
#[tokio::test]
async fn worn_tips_leave_lower_ridges_and_a_second_pass_halves_the_tracks() {
    let site = Site::open();
    let phone = a_shift_on_gravel(&site).await;
    phone.tabs().setup().await;
    let pictures = phone.pictures();
    pictures.open().await;
    pictures
        .see_told(
            ACROSS,
            "Tracks 31.2 mm apart, with ridges 9 mm high between them.",
        )
        .await;
    let (once, new) = (pictures.tracks_across().await, pictures.drawn_ridge().await);
    assert!((new - 9.0).abs() < 0.2, "{new} mm are drawn");

    pictures.pick("Tips", "Half worn").await;
    pictures
        .see_told(
            ACROSS,
            "Tracks 31.2 mm apart, with ridges 1.5 mm high between them.",
        )
        .await;
    let worn = pictures.drawn_ridge().await;
    assert!((worn - 1.5).abs() < 0.2, "{worn} mm are drawn");
    pictures.pick("Tips", "New").await;
    pictures
        .pick("Passes over the same road", "Two, offset by half")
        .await;
    pictures
        .see_told(
            ACROSS,
            "Tracks 15.6 mm apart, with ridges 4.5 mm high between them.",
        )
        .await;
    let twice = pictures.tracks_across().await;
    assert!(2 * once - 1 <= twice, "{twice} tracks after {once}");
    phone.picture("pictures-two").await;
    pictures.pick("Tips", "Half worn").await;
    pictures
        .see_told(
            ACROSS,
            "Tracks 15.6 mm apart that meet: no ridge stays between them.",
        )
        .await;
    pictures
        .see_note(ACROSS, "Half worn is taken to be 7.5 mm off the tip.")
        .await;
}

#[tokio::test]
async fn eighty_degrees_are_refused_with_the_reason() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().setup().await;
    let pictures = phone.pictures();
    pictures.open().await;
    pictures
        .see_lead(
            "No work is chosen, so this begins with the sheet for: Packed snow or ice, hard road.",
        )
        .await;
    pictures.raise("Grading angle", 14).await;
    pictures.see_angle("Grading angle", "79°").await;
    pictures.raise("Grading angle", 1).await;
    pictures
        .see_refused("80° or more is refused: the skew is what turns the teeth.")
        .await;
    pictures.see_angle("Grading angle", "79°").await;
    pictures.lower("Grading angle", 1).await;
    pictures.see_angle("Grading angle", "78°").await;
}

#[tokio::test]
async fn a_sheet_leads_to_its_own_pictures_with_blunt_teeth_and_few_plates() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().setup().await;
    phone.setup().choose("Planing rutted pavement").await;
    let pictures = phone.pictures();
    pictures.open().await;
    pictures
        .see_lead("Set as on the sheet: Planing rutted pavement.")
        .await;
    pictures.see_angle("Cutting angle", "36°").await;
    // 38.1 mm times the sine of 65 degrees, less the 19 mm of a blunt tip.
    pictures
        .see_told(
            ACROSS,
            "Tracks 34.5 mm apart. A strip 15.5 mm wide stays uncut between two of them.",
        )
        .await;
    phone.picture("pictures-blunt").await;
}

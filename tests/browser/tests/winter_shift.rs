//! A winter shift on packed snow and along the road's edge: what the sheets say, and what they say when nobody knows.

use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::pages::Reason;
use evenrow_browser_tests::server::Site;

/// A dark January morning, the phone asks for a dark screen, and no work has been chosen.
async fn a_winter_shift(site: &Site) -> Phone {
    let phone = Phone::at("2026-01-20", "04:45").await;
    phone.system_is_dark(true).await;
    phone.open(site).await;
    phone.app().see_look("night").await;
    phone.first_start().answer_as_most_do().await;
    phone.start().times().start_at("05:00").await;
    phone.start().times().end_at("13:00").await;
    phone.start().times().break_at("09:00").await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    phone
}

fn says(reasons: &[Reason], text: &str, basis: &str) {
    let wanted = Reason {
        text: text.to_owned(),
        basis: basis.to_owned(),
    };
    assert!(
        reasons.contains(&wanted),
        "{wanted:?} is not among {reasons:#?}"
    );
}

#[tokio::test]
async fn packed_snow_on_soft_surfacing_is_taken_flat_and_in_layers() {
    let site = Site::open();
    let phone = a_winter_shift(&site).await;
    let sheet = phone.sheet();
    phone.tabs().setup().await;
    phone
        .setup()
        .choose("Packed snow or ice, soft surfacing")
        .await;

    // Nothing is known yet: one layer, until the edge skids.
    sheet.see_line("Layers", "one").await;
    sheet.see_line("Cutting angle", "36° (33° to 39°)").await;
    let why = sheet.reasons_of("Cutting angle").await;
    says(
        &why,
        "A soft surfacing is to be kept: the cutting angle stays under 40°, or the teeth damage it.",
        "common practice",
    );

    sheet.raise("How thick is the layer?", 7).await;
    sheet.see_number("How thick is the layer?", "60 mm").await;
    sheet
        .answer("Does the edge skid instead of biting?", "Yes")
        .await;
    sheet
        .see_question("What depth bites without skidding?")
        .await;
    sheet.see_line("Layers", "2 of 30 mm").await;
    let why = sheet.reasons_of("Layers").await;
    says(
        &why,
        "The edge skids: take what bites, 30 mm at a time.",
        "common practice",
    );
    says(
        &why,
        "30 mm is a first guess. What bites without skidding today decides: say so when you know.",
        "house default",
    );

    // Twenty millimetres bite: three layers. Once it is forgotten again, the first guess is back.
    sheet.raise("What depth bites without skidding?", 1).await;
    sheet
        .see_number("What depth bites without skidding?", "30 mm")
        .await;
    sheet.lower("What depth bites without skidding?", 2).await;
    sheet
        .see_number("What depth bites without skidding?", "20 mm")
        .await;
    sheet.see_line("Layers", "3 of 20 mm").await;
    sheet.forget("What depth bites without skidding?").await;
    sheet
        .see_number("What depth bites without skidding?", "?")
        .await;
    sheet.see_line("Layers", "2 of 30 mm").await;
    phone.picture("sheet-snow").await;

    sheet.use_it().await;
    phone
        .shift()
        .see_head("Packed snow or ice, soft surfacing")
        .await;
    phone.shift().see_drops(&["planned", "planned"]).await;
}

#[tokio::test]
async fn along_the_roads_edge_one_or_two_plates_at_the_end_that_cuts() {
    let site = Site::open();
    let phone = a_winter_shift(&site).await;
    let sheet = phone.sheet();
    phone.tabs().setup().await;
    phone
        .setup()
        .choose("Hard layer along the road’s edge")
        .await;
    sheet
        .see_question("Which end of the board cuts, seen from the cab?")
        .await;

    sheet.see_line("Plates", "no. 4 of 4, 24 teeth").await;
    let why = sheet.reasons_of("Plates").await;
    says(
        &why,
        "The width of the strip is not known: one plate to begin with; a second beside it if the strip is wider.",
        "house default",
    );
    says(
        &why,
        "Nobody said which end cuts. Taken to be the right end, the road’s edge where traffic keeps right.",
        "house default",
    );

    sheet
        .answer("Which end of the board cuts, seen from the cab?", "Left")
        .await;
    sheet.see_line("Plates", "no. 1 of 4, 24 teeth").await;
    sheet.raise("How wide is the hard strip?", 11).await;
    sheet.see_number("How wide is the hard strip?", "2 m").await;
    sheet.see_line("Plates", "nos. 1, 2 of 4, 48 teeth").await;
    let why = sheet.reasons_of("Plates").await;
    says(
        &why,
        "At the left end, which does the cutting. Plain or perforated edges on the rest.",
        "common practice",
    );
    phone.picture("sheet-edge").await;
    sheet.use_it().await;
    phone
        .shift()
        .see_head("Hard layer along the road’s edge")
        .await;
}

#[tokio::test]
async fn i_dont_know_everywhere_gives_a_sheet_with_the_cautious_advice() {
    let site = Site::open();
    let phone = a_winter_shift(&site).await;
    let sheet = phone.sheet();
    phone.tabs().setup().await;
    let works = phone.setup().works().await;
    assert_eq!(works.len(), 10, "{works:?}");
    for work in &works {
        phone.setup().choose(work).await;
        sheet.see(work).await;
        sheet.see_line("Cutting angle", "°").await;
        assert!(sheet.can_be_used().await, "{work} cannot be used");
        phone.back().await;
        phone.setup().see().await;
    }

    phone.setup().choose("Milling soft surfacing").await;
    sheet.see_verdict("with-care", "With care").await;
    sheet.see_line("Plates", "no. 4 of 4, 24 teeth").await;
    let why = sheet.reasons_of_the_verdict().await;
    says(
        &why,
        "The surface temperature is not known: treated as too cool for full width.",
        "common practice",
    );
    says(
        &why,
        "Nobody knows whether the surfacing is soft: treated as stiff.",
        "common practice",
    );

    phone.tabs().setup().await;
    phone.setup().choose("Planing rutted pavement").await;
    sheet.see_verdict("with-care", "With care").await;
    sheet.see_line("Cutting angle", "36° (33° to 39°)").await;
    let why = sheet.reasons_of("Cutting angle").await;
    says(
        &why,
        "The surfacing may be soft: treated as soft, so the cutting angle stays under 40°.",
        "house default",
    );

    phone.tabs().setup().await;
    phone.setup().choose("Gravel, top layer").await;
    sheet.see_line("Oil", "3 times a shift").await;
    let why = sheet.reasons_of("Oil").await;
    says(
        &why,
        "It may be dusty: treated as dusty, so three.",
        "house default",
    );
}

#[tokio::test]
async fn a_surface_too_cold_to_mill_is_refused_with_another_work_to_choose() {
    let site = Site::open();
    let phone = a_winter_shift(&site).await;
    let sheet = phone.sheet();
    phone.tabs().setup().await;
    phone.setup().choose("Milling soft surfacing").await;
    sheet.raise("How warm is the surface?", 1).await;
    sheet.lower("How warm is the surface?", 6).await;
    sheet.see_number("How warm is the surface?", "4 °C").await;
    sheet.see_verdict("do-not", "Do not do it today").await;
    assert!(!sheet.can_be_used().await);
    let why = sheet.reasons_of_the_verdict().await;
    says(
        &why,
        "The surface is at 4 °C; below 5 °C it is not milled.",
        "house default",
    );
    sheet.raise("How warm is the surface?", 1).await;
    sheet.see_verdict("with-care", "With care").await;
    assert!(sheet.can_be_used().await);
}

#[tokio::test]
async fn a_phone_set_to_feet_asks_and_answers_in_feet_inches_and_fahrenheit() {
    let site = Site::open();
    let phone = Phone::at("2026-01-20", "04:45").await;
    phone.open(&site).await;
    let (first, sheet) = (phone.first_start(), phone.sheet());
    first.see().await;
    first.units("Feet, °F").await;
    first.board("13 ft (3.96 m)").await;
    first.ready().await;
    phone.start().start().await;
    phone.tabs().setup().await;
    phone.setup().choose("Milling soft surfacing").await;
    sheet.raise("How warm is the surface?", 3).await;
    sheet.see_number("How warm is the surface?", "54 °F").await;
    let why = sheet.reasons_of_the_verdict().await;
    says(
        &why,
        "The surface is at 54 °F; full width wants 59 °F or more.",
        "common practice",
    );
    phone.tabs().setup().await;
    phone.setup().choose("Packed snow or ice, hard road").await;
    sheet.raise("How thick is the layer?", 2).await;
    sheet.see_number("How thick is the layer?", "1.3 in").await;
    sheet.see_line("Leaves tracks", "in apart").await;
    sheet.use_it().await;
    phone.shift().to_closing().await;
    phone.checklist().end_the_shift().await;
    let report = phone.report().read("Shift report").await;
    assert!(report.contains("moldboard 13 ft"), "{report}");
}

//! The row at the roadside: the odd teeth noted, replaced and measured, sets that come and go, by touch and by keyboard.
//!
//! Lengths, counts and names are invented. Never here: which spare fits and how long a set lasts, which the rules are
//! tried on.

use evenrow_browser_tests::beginnings::{
    a_phone_that_knows_its_machine, a_season_has_been_kept, a_shift_without_work,
};
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

/// Six teeth of a row of 104: plate, place on it, and how it is found.
const SIX: [(usize, usize, &str); 6] = [
    (1, 3, "stuck"),
    (1, 26, "broken"),
    (2, 5, "gone"),
    (3, 1, "chipped"),
    (4, 13, "stiff"),
    (4, 26, "broken"),
];

/// A phone with a board of 13 ft, 104 new teeth, and six spares as long as they are.
async fn a_row_of_104(site: &Site) -> Phone {
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(site).await;
    let first = phone.first_start();
    first.see().await;
    first.units("Metres, °C").await;
    first.board("13 ft (3.96 m)").await;
    first.ready().await;
    phone.start().see().await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.to_spares().await;
    row.add_spares(6).await;
    row.see_spares("wide flange, pointed, 20 mm", "6").await;
    row.back().await;
    phone
}

fn told(plate: usize, nth: usize, state: &str) -> String {
    format!("plate {plate}, tooth {nth}, {state}, 20 mm")
}

#[tokio::test]
async fn six_bad_teeth_are_noted_and_replaced_and_the_set_changed_by_touch() {
    let site = Site::open();
    let phone = a_row_of_104(&site).await;
    let row = phone.row();
    for (plate, nth, state) in SIX {
        row.plate(plate).await;
        row.tooth(nth).await;
        assert!(row.opened_is_below_its_tooth().await, "{plate}-{nth}");
        row.it_is(state).await;
        row.see_tooth(nth, &told(plate, nth, state)).await;
    }
    row.see_answer(
        "change",
        "1-26, 2-5, 3-1, 4-26: a matching spare is in stock for each. Tap the tooth to replace it. 1-3: stuck. Free and oil them; replace what stays stuck.",
    )
    .await;
    row.see_line_told("Plate 1: 2 noted. Plate 2: 1 noted. Plate 3: 1 noted. Plate 4: 2 noted")
        .await;
    phone.picture("row-six-bad").await;

    // A kill in between loses nothing.
    phone.reload().await;
    for (plate, nth, state) in SIX {
        row.plate(plate).await;
        row.see_tooth(nth, &told(plate, nth, state)).await;
        row.tooth(nth).await;
        row.see_offer("Replace it: wide flange, pointed, 20 mm; its equal")
            .await;
        row.replace().await;
        row.see_tooth(nth, &told(plate, nth, "turning")).await;
    }
    row.see_answer("change", "Nothing: no tooth is chipped, broken or gone.")
        .await;
    // All six spares have left the stock.
    row.to_spares().await;
    row.see_no_spares().await;
    row.back().await;

    // The second set goes on; the first one lies in store.
    row.to_sets().await;
    row.mount_another().await;
    row.to_sets().await;
    row.see_set("In store.").await;
    phone.reload().await;
    row.see_set("In store.").await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

#[tokio::test]
async fn six_bad_teeth_are_noted_and_replaced_and_the_set_changed_by_keyboard_alone() {
    let site = Site::open();
    let phone = a_row_of_104(&site).await;
    let row = phone.row();
    let states = ["turning", "stiff", "stuck", "chipped", "broken", "gone"];
    for (plate, nth, state) in SIX {
        row.plate_by_keyboard(plate).await;
        row.tooth_by_keyboard(nth).await;
        let at = states.iter().position(|it| *it == state).unwrap() + 1;
        row.it_is_by_keyboard(at).await;
        row.see_tooth(nth, &told(plate, nth, state)).await;
        row.focus_is_on_a_state().await;
    }
    phone.reload().await;
    for (plate, nth, state) in SIX {
        row.plate_by_keyboard(plate).await;
        row.see_tooth(nth, &told(plate, nth, state)).await;
        row.tooth_by_keyboard(nth).await;
        row.press_by_keyboard("Replace it", "button.replace").await;
        row.see_tooth(nth, &told(plate, nth, "turning")).await;
    }
    row.press_by_keyboard("Sets of teeth", ".pair a.to-sets")
        .await;
    row.see_sets().await;
    row.press_by_keyboard("Mount it", "button.mount-set").await;
    row.see_line().await;
    row.press_by_keyboard("Sets of teeth", ".pair a.to-sets")
        .await;
    row.see_set("In store.").await;
}

#[tokio::test]
async fn all_turning_is_one_tap_and_a_slip_is_taken_back_within_ten_seconds() {
    let site = Site::open();
    let mut phone = a_shift_without_work(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.all_turning().await;
    phone.notices().see_kept("all teeth turning").await;
    phone.tabs().shift().await;
    phone.shift().see_looks_on_the_line(1).await;
    row.open().await;

    row.plate(2).await;
    row.tooth(5).await;
    row.it_is("broken").await;
    phone.notices().see_kept("tooth 2-5 broken").await;
    row.see_tooth(5, "plate 2, tooth 5, broken, 20 mm").await;
    phone.notices().undo().await;
    row.see_tooth(5, "plate 2, tooth 5, turning, 20 mm").await;

    row.it_is("stuck").await;
    row.see_tooth(5, "plate 2, tooth 5, stuck, 20 mm").await;
    row.others_turn().await;
    phone.notices().see_kept("1 stuck").await;
    phone.time_passes(std::time::Duration::from_secs(10)).await;
    phone.notices().see_nothing_to_undo().await;
}

#[tokio::test]
async fn without_a_matching_spare_it_says_what_to_do_and_with_one_how_well_it_matches() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.tooth(7).await;
    row.it_is("broken").await;
    row.see_no_spare("No spare of this kind is within 2 mm of the row.")
        .await;
    row.to_spares().await;
    // Two steps of half a millimetre below a new one.
    row.spares_shorter(2).await;
    row.add_spares(2).await;
    row.see_spares("wide flange, pointed, 19 mm", "2").await;
    row.fewer_spares("wide flange, pointed, 19 mm", 1).await;
    row.see_spares("wide flange, pointed, 19 mm", "1").await;
    row.back().await;
    row.tooth(7).await;
    row.see_offer("Replace it: wide flange, pointed, 19 mm; fits to 1 mm")
        .await;
    row.replace().await;
    row.see_tooth(7, "plate 1, tooth 7, turning, 19 mm").await;
}

#[tokio::test]
async fn plates_left_plain_today_are_drawn_so_and_the_end_that_leads_is_marked() {
    let site = Site::open();
    let phone = a_shift_without_work(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.see_plain_plates(0).await;
    row.other_end_leads().await;
    row.see_line_told("The left end leads").await;
    row.other_end_leads().await;
    row.see_line_told("The right end leads").await;

    phone.tabs().setup().await;
    phone
        .setup()
        .choose("Hard layer along the road’s edge")
        .await;
    let sheet = phone.sheet();
    sheet
        .answer("Which end of the board cuts, seen from the cab?", "Left")
        .await;
    sheet.see_line("Plates", "no. 1 of 4").await;
    sheet.use_it().await;
    row.open().await;
    row.see_plain_plates(3).await;
    row.see_line_told("Plate 1: all turn. Plate 2: plain edge today")
        .await;
    row.see_line_told("The left end leads").await;
    phone.picture("row-plain-plates").await;
}

#[tokio::test]
async fn as_many_teeth_stand_in_a_line_as_leave_room_for_a_glove() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    for (width, in_a_line) in [(320, 4), (412, 6), (540, 8)] {
        phone.resize(width, 915).await;
        let (line, wide, high) = row.grid().await;
        assert_eq!(line, in_a_line, "at {width}");
        assert!(60.0 <= wide && 72.0 <= high, "{wide} by {high} at {width}");
    }
}

#[tokio::test]
async fn a_pass_over_every_eighth_tooth_in_sixteenths_leaves_the_others_reckoned() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    let first = phone.first_start();
    first.see().await;
    first.units("Feet, °F").await;
    first.board("12 ft (3.66 m)").await;
    first.ready().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.see_tooth(1, "plate 1, tooth 1, turning, 13/16 in")
        .await;
    row.see_answer("life", "Lengths are known at 1 times so far")
        .await;
    phone.clock_moves_to("14:00").await;
    row.measure_every("Every 8th").await;
    row.see_measured_tooth("Plate 1, tooth 4").await;
    row.shorter_tip(2).await;
    row.see_tip("11/16 in").await;
    row.next_tooth().await;
    row.see_measured_tooth("Plate 1, tooth 12").await;
    // A reload in the middle of the pass loses none of it.
    phone.reload().await;
    row.see_measured_tooth("Plate 1, tooth 12").await;
    row.measure_the_rest(11).await;
    row.keep_pass().await;
    row.see_tooth(4, "plate 1, tooth 4, turning, 11/16 in")
        .await;
    row.see_tooth(5, "plate 1, tooth 5, turning, about 11/16 in")
        .await;
    row.see_answer("even", "12 teeth measured").await;

    // One tooth by itself.
    row.tooth(5).await;
    row.shorter_tip(1).await;
    row.see_tip("5/8 in").await;
    row.keep_tip().await;
    row.see_tooth(5, "plate 1, tooth 5, turning, 5/8 in").await;
}

#[tokio::test]
async fn a_set_is_laid_up_with_its_checklist_and_mounted_again_with_its_history() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    row.plate(3).await;
    row.tooth(2).await;
    row.it_is("stiff").await;
    row.see_tooth(2, "plate 3, tooth 2, stiff, 20 mm").await;
    row.note("The left end met a kerb at Alder Loop").await;
    row.to_sets().await;
    row.unfold_laying_up().await;
    row.tick("Teeth and sockets are well oiled").await;
    // What was ticked is there after a reload.
    phone.reload().await;
    row.unfold_laying_up().await;
    phone.picture("row-laying-up").await;
    row.it_is_stored().await;
    row.see_set("In store.").await;
    row.see_laid_up("Teeth and sockets are well oiled").await;
    row.see_set("The left end met a kerb at Alder Loop").await;
    row.put_back().await;
    row.plate(3).await;
    row.see_tooth(2, "plate 3, tooth 2, stiff, 20 mm").await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

#[tokio::test]
async fn a_set_never_measured_gives_no_spares_until_it_is() {
    let site = Site::open();
    let mut phone = a_shift_without_work(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    phone.clock_moves_to("14:00").await;
    row.to_sets().await;
    row.mount_another().await;
    row.to_sets().await;
    row.make_spares().await;
    phone
        .notices()
        .see_trouble("The tips of this set were never measured")
        .await;
}

#[tokio::test]
async fn each_machine_has_its_own_row_and_none_is_changed_while_a_shift_runs() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    let row = phone.row();
    row.open().await;
    row.mount_a_new_set().await;
    phone.tabs().machine().await;
    let machine = phone.machine();
    machine.add_another().await;
    machine.see_name("Machine 2").await;
    machine.name_it("Pine Ridge 3").await;
    machine.keep().await;
    phone.tabs().see_machine("Pine Ridge 3").await;
    row.open().await;
    row.mount_a_new_set().await;
    row.tooth(1).await;
    row.it_is("gone").await;
    row.see_tooth(1, "plate 1, tooth 1, gone, 20 mm").await;
    phone.tabs().machine().await;
    machine.work_with("My grader").await;
    phone.tabs().see_machine("My grader").await;
    machine.see_name("My grader").await;
    row.open().await;
    row.see_tooth(1, "plate 1, tooth 1, turning, 20 mm").await;

    phone.tabs().shift().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    phone.tabs().machine().await;
    machine.work_with("Pine Ridge 3").await;
    phone
        .notices()
        .see_trouble("A shift has been running since 07:00.")
        .await;
    phone.tabs().see_machine("My grader").await;
}

#[tokio::test]
async fn a_season_of_a_road_district_is_told_with_all_its_pictures() {
    let site = Site::open();
    let phone = Phone::at("2026-07-24", "17:30").await;
    a_season_has_been_kept(&phone, &site).await;
    let row = phone.row();
    row.open().await;
    row.see_all_pictures().await;
    let life = row.answer("life").await;
    assert!(
        life.contains("Half worn around 2026-") && life.contains(", at the earliest 2026-"),
        "{life}"
    );
    row.see_answer("even", "13 teeth measured").await;
    row.see_answer("change", "3-5").await;
    row.see_answer("turning", "of the last 6 shifts").await;
    row.see_answer("spares", "Carry ").await;
    phone.picture("row-season").await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

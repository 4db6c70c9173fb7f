//! The day's plan: sections of road, their hours, one line of the day, and what is left as the day goes on.

use evenrow_browser_tests::beginnings::{a_phone_that_knows_its_machine, a_shift_on_gravel};
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

/// Plans a section of gravel, 7 m wide: three passes at 8 km/h.
async fn plan_gravel(phone: &Phone, name: &str, km: &str) {
    let plan = phone.plan();
    plan.add().await;
    let form = plan.form();
    form.fill("Name of the road", name).await;
    form.fill("Length in km", km).await;
    form.fill("Width of the road in metres, if known", "7")
        .await;
    form.keep().await;
    phone.notices().see_kept(&format!("planned: {name}")).await;
    plan.see().await;
}

/// Four, two and six kilometres: two hours, one and three.
async fn three_sections(phone: &Phone) {
    phone.tabs().setup().await;
    phone.plan().open().await;
    plan_gravel(phone, "Alder Loop", "4").await;
    plan_gravel(phone, "Spruce Road", "2").await;
    plan_gravel(phone, "The pit", "6").await;
}

/// Source: FM 5-434, chapter 4, value from memory: five miles, 36 minutes of the hour, two passes at 2.3 mph, two at 3.7
/// and three at 9.7 take 7.2464, 4.5045 and 2.5773 hours, 14.328 in all.
#[tokio::test]
async fn the_printed_example_planned_in_miles_takes_the_printed_hours() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().machine().await;
    phone.machine().units("Feet, °F").await;
    phone.tabs().setup().await;
    let plan = phone.plan();
    plan.open().await;
    for (name, passes, speed, takes) in [
        ("Rough", 2, "2.3", "Takes 7 h 14 min, 10 mi driven"),
        ("Shape", 2, "3.7", "Takes 4 h 30 min, 10 mi driven"),
        ("Finish", 3, "9.7", "Takes 2 h 34 min, 15 mi driven"),
    ] {
        plan.add().await;
        let form = plan.form();
        form.fill("Name of the road", name).await;
        form.fill("Length in miles", "5").await;
        form.fill("Speed in mph", speed).await;
        form.raise("Passes", passes - 1).await;
        form.lower("Minutes of work in an hour", 9).await;
        form.see_takes(takes).await;
        form.keep().await;
        plan.see().await;
    }
    plan.see_order(&["1. Rough", "2. Shape", "3. Finish"]).await;
    plan.see_state("Planned: 14 h 19 min of work, 35 mi driven.")
        .await;
    plan.see_facts("Rough", "5 mi, 2 passes, 2.3 mph").await;
    plan.see_not_today("Does not fit into this shift: Shape, Finish.")
        .await;
    plan.see_when("Shape", "4 h 30 min, past the end of the shift")
        .await;
    plan.see_when("Finish", "2 h 34 min, left for another shift")
        .await;
}

/// By hand: oil at 07:00, two hours to 09:10; an hour with the oiling at 09:40 to 10:20; three with lunch at 11:00 and
/// oil at 12:50 to 14:00.
#[tokio::test]
async fn sections_oilings_and_the_break_stand_on_one_line_and_the_rest_follows_the_days_own_pace() {
    let site = Site::open();
    let mut phone = a_shift_on_gravel(&site).await;
    three_sections(&phone).await;
    let plan = phone.plan();
    plan.see_when("Alder Loop", "2 h: 07:00 to 09:10").await;
    plan.see_when("Spruce Road", "1 h: 09:10 to 10:20").await;
    plan.see_when("The pit", "3 h: 10:20 to 14:00").await;
    plan.see_finish("Done at 14:00, 1 h 30 min before the shift ends")
        .await;
    plan.see_all_fits().await;
    plan.see_line(&["ahead", "ahead", "ahead"]).await;
    assert_eq!(plan.drops_and_rests().await, (3, 1));
    let told = plan.line_told().await;
    for part in [
        "Alder Loop 07:00 to 09:10",
        "Oilings at 07:00, 09:40, 12:50",
        "Breaks: 11:00 to 11:30",
        "Done at 14:00",
    ] {
        assert!(told.contains(part), "{told}");
    }

    plan_gravel(&phone, "Birch Hill", "4").await;
    plan.see_not_today("Does not fit into this shift: Birch Hill.")
        .await;
    plan.see_line(&["ahead", "ahead", "ahead", "beyond"]).await;
    phone.picture("plan").await;

    phone.clock_moves_to("07:05").await;
    phone.alarm().done().await;
    phone.clock_moves_to("09:30").await;
    plan.tick("Alder Loop", true).await;
    phone.notices().see_kept("section done").await;
    plan.see_when("Alder Loop", "Done at 09:30, planned to take 2 h")
        .await;
    // 07:00 to 09:30 less the oiling: 140 minutes for 120, and so 420 for the 360 that are left.
    plan.see_state("Left: 7 h of work.").await;
    plan.see_state("So far it takes 1.17 times as long as planned.")
        .await;
    plan.see_when("Spruce Road", "09:30 to 10:50").await;
    plan.see_line(&["done", "ahead", "ahead", "beyond"]).await;
    phone.picture("plan-ticked").await;

    // Kept over a reload; and the tick can be taken back.
    phone.reload().await;
    plan.see_line(&["done", "ahead", "ahead", "beyond"]).await;
    plan.tick("Alder Loop", false).await;
    plan.see_line(&["ahead", "ahead", "ahead", "beyond"]).await;
}

#[tokio::test]
async fn sections_are_changed_moved_and_left_out_without_a_network_and_each_can_be_undone() {
    let mut site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.reload().await;
    three_sections(&phone).await;
    let plan = phone.plan();
    plan.see_state("No shift runs. This is counted from 07:00 to 15:30, as you usually work.")
        .await;

    plan.change("The pit", "Earlier").await;
    plan.see_order(&["1. Alder Loop", "2. The pit", "3. Spruce Road"])
        .await;
    plan.change("Alder Loop", "Later").await;
    plan.see_order(&["1. The pit", "2. Alder Loop", "3. Spruce Road"])
        .await;
    phone.notices().undo().await;
    plan.see_order(&["1. Alder Loop", "2. The pit", "3. Spruce Road"])
        .await;

    plan.change("The pit", "Leave it out").await;
    plan.see_order(&["1. Alder Loop", "2. Spruce Road"]).await;
    phone.notices().undo().await;
    plan.see_order(&["1. Alder Loop", "2. The pit", "3. Spruce Road"])
        .await;

    plan.change("Alder Loop", "Change it").await;
    let form = plan.form();
    form.see_field("Length in km", "4").await;
    form.fill("Length in km", "5").await;
    form.keep().await;
    phone.notices().see_kept("changed: Alder Loop").await;
    plan.see_facts(
        "Alder Loop",
        "Gravel, top layer. 5 km, 7 m wide, 3 passes, 8 km/h",
    )
    .await;

    // A section is done in a shift: without one the tick is refused.
    plan.try_to_tick("Alder Loop").await;
    phone
        .notices()
        .see_trouble("No shift runs. Start one first.")
        .await;
}

#[tokio::test]
async fn the_form_works_out_what_follows_and_says_what_is_wrong_without_losing_anything() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().setup().await;
    let plan = phone.plan();
    plan.open().await;
    plan.add().await;
    let (form, notices) = (plan.form(), phone.notices());

    // The speed is the sheet's, the passes follow from the width.
    form.see_field("Speed in km/h", "8").await;
    form.see_number("Passes", "1").await;
    form.see_passes_why("Type the width and the passes are worked out")
        .await;
    form.fill("Width of the road in metres, if known", "7")
        .await;
    form.see_number("Passes", "3").await;
    form.see_passes_why("3 passes cover 7 m: the board works 3 m across")
        .await;
    form.raise("Passes", 2).await;
    form.see_number("Passes", "5").await;
    form.see_passes_why("Set by hand.").await;
    form.passes_from_the_width().await;
    form.see_number("Passes", "3").await;
    form.work("Packed snow or ice, hard road").await;
    form.see_field("Speed in km/h", "").await;
    form.work("Gravel, top layer").await;
    form.fill("Speed in km/h", "12").await;
    form.see_too_fast("The sheet says at most 8 km/h for this work.")
        .await;

    form.keep().await;
    form.see_wrong("That is not a length. Type it in km with digits, such as 4.2.")
        .await;
    form.fill("Length in km", "far").await;
    form.keep().await;
    form.see_wrong("That is not a length.").await;
    form.fill("Length in km", "4,2").await;
    form.keep().await;
    notices
        .see_trouble("The section has no name. Type one, such as the road’s number.")
        .await;
    notices.understood().await;
    form.fill("Name of the road", "Alder Loop").await;
    form.fill("Speed in km/h", "8").await;
    for (label, typed, sentence, right) in [
        (
            "Length in km",
            "0",
            "A section of 0 km cannot be right. It must be 0.01 km to 500 km long.",
            "4,2",
        ),
        (
            "Width of the road in metres, if known",
            "70",
            "A road 70 m wide cannot be right. It must be 0.3 m to 50 m wide.",
            "7",
        ),
        (
            "Speed in km/h",
            "0",
            "A speed of 0 km/h cannot be right. It must be 0.1 km/h to 100 km/h.",
            "8",
        ),
    ] {
        form.fill(label, typed).await;
        form.keep().await;
        notices.see_trouble(sentence).await;
        notices.understood().await;
        form.see_field(label, typed).await;
        form.fill(label, right).await;
        // What follows from it has been drawn, so that nothing moves under the next tap.
        form.see_takes("Takes 2 h 6 min, 12.6 km driven").await;
    }

    // Nothing typed is lost on the way out and back, nor by a reload.
    phone.tabs().shift().await;
    phone.start().see().await;
    phone.tabs().setup().await;
    plan.open().await;
    phone.reload().await;
    plan.add_again().await;
    form.see_field("Name of the road", "Alder Loop").await;
    form.see_field("Length in km", "4,2").await;
    phone.picture("section").await;
    form.keep().await;
    plan.see_facts("Alder Loop", "4.2 km, 7 m wide, 3 passes, 8 km/h")
        .await;
}

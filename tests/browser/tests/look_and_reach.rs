//! How the screens look and who can reach them: by keyboard alone, in the system's own colours, without motion, on a
//! phone that lies on its side, for either thumb; and that nothing flashes or shifts.

use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::pages::Stand;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn a_whole_shift_goes_by_keyboard_alone_and_the_focus_is_never_lost() {
    let site = Site::open();
    let mut phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    let (keys, voice) = (phone.keys(), phone.voice());
    voice.listen().await;
    keys.enter("Start the shift").await;
    keys.see("Choose today’s work").await;
    keys.enter("Choose the work").await;
    keys.see("What is the work?").await;
    keys.enter("Gravel, top layer").await;
    keys.see("Gravel, top layer").await;

    // A line of the sheet opens and closes under the focus.
    keys.enter("Cutting angle…").await;
    keys.see("Cutting angle…").await;
    keys.press_enter().await;
    keys.see("Cutting angle…").await;
    keys.enter("Use for this shift").await;
    keys.see("Oil the sockets").await;
    assert!(
        voice.said().await.iter().any(|it| it.contains("Kept")),
        "what was kept is read out"
    );

    // The order is that of the eye: what is due, the looks, the rest, what can be undone, the tabs.
    let by = keys.to("Book").await;
    let order = [
        "Oiled now",
        "All turning",
        "Some are not",
        "Break",
        "Change work",
        "Note",
        "Opening checklist: 0 of 8",
        "End of shift",
        "Sound, locked phone, calendar",
        "Undo",
        "Shift",
        "Setup",
        "Row",
    ];
    assert_eq!(by, order);

    keys.space("All turning").await;
    phone.notices().see_kept("all teeth turning").await;
    keys.see("All turning").await;
    keys.enter("Undo").await;
    phone.shift().see_looks_on_the_line(0).await;
    keys.see("Oil the sockets").await;

    // The alarm takes the focus and gives it back.
    keys.to("Note").await;
    phone.clock_moves_to("07:05").await;
    phone.alarm().see("Now due at 07:00").await;
    keys.see("Oiled now").await;
    keys.enter("Again in 5 minutes").await;
    phone.alarm().see_none().await;
    keys.see("Note").await;
    phone.clock_moves_to("07:11").await;
    phone.alarm().see("due at 07:00").await;
    keys.see("Oiled now").await;
    keys.press_space().await;
    phone.alarm().see_none().await;
    keys.see("Note").await;

    keys.press_enter().await;
    keys.see("Note").await;
    keys.to("What happened, or what the next operator should know")
        .await;
    keys.types("Alder Loop: soft shoulder").await;
    keys.enter("Keep").await;
    keys.see("Oil the sockets").await;

    // The button that began the break is gone.
    keys.enter("Break").await;
    keys.see("On break").await;
    keys.enter("Back to work").await;
    phone.shift().see_title("Oil the sockets").await;

    keys.enter("Some are not").await;
    keys.see("Which teeth do not turn?").await;
    keys.enter("More: Stiff").await;
    phone.look().see_count("Stiff", "1").await;
    keys.see("More: Stiff").await;
    keys.enter("Keep").await;
    keys.see("Oil the sockets").await;

    keys.enter("End of shift").await;
    keys.see("Closing checklist").await;
    keys.enter("End the shift").await;
    keys.see("Shift report: My grader, 2026-07-01").await;
}

#[tokio::test]
async fn what_is_refused_is_read_out_at_once_and_its_notice_gives_the_focus_back() {
    let site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    let (keys, voice) = (phone.keys(), phone.voice());
    phone.start().times().end_at("06:00").await;
    voice.listen().await;
    keys.enter("Start the shift").await;
    phone.notices().see_trouble("before it starts").await;
    let said = voice.said().await;
    assert!(
        said.iter().any(|it| it.contains("before it starts")),
        "{said:?}"
    );
    keys.see("Start the shift").await;
    keys.enter("Understood").await;
    keys.see("No shift runs").await;
}

/// What tells by its shape, and what is chosen.
const SHAPES: &[&str] = &[
    ".shift-line-worked",
    ".shift-line-rest",
    ".shift-line-now",
    ".shift-line-look",
    ".shift-line-drop svg",
    ".next-job",
    ".next-job-button",
];
const SHAPES_OF_THE_ROW: &[&str] = &[
    ".whole-row-plate svg",
    ".row-mark",
    ".tooth-outline",
    ".life-worn",
    ".life-band",
    ".life-mark",
    ".row-profile-bar",
    ".plate-of-row[aria-pressed=true]",
];

async fn see_shapes(phone: &Phone, shapes: &[&str]) {
    let (ground, canvas) = phone.paint().ground_and_canvas().await;
    assert_eq!(ground, canvas, "the ground is the system’s own");
    for shape in shapes {
        let (lost, all) = phone.paint().lost(shape).await;
        assert!(0 < all, "there is no {shape}");
        assert_eq!(lost, Vec::<String>::new(), "{shape}");
    }
}

#[tokio::test]
async fn in_the_systems_own_colours_every_shape_and_every_choice_is_still_seen() {
    let site = Site::open();
    for dark in [false, true] {
        let mut phone = beginnings::a_shift_on_gravel(&site).await;
        phone.system_forces_its_colours(dark).await;
        phone.clock_moves_to("07:20").await;
        phone.alarm().see("Late 0:20 due at 07:00").await;
        see_shapes(&phone, &[".alarm", ".alarm-done"]).await;
        phone.alarm().done().await;
        phone.clock_moves_to("09:00").await;
        phone.shift().all_turning().await;
        phone.shift().see_looks_on_the_line(1).await;
        see_shapes(&phone, SHAPES).await;
        phone.keys().to("Oiled now").await;

        phone.tabs().machine().await;
        phone.machine().see().await;
        let (chosen, other) = (
            phone
                .paint()
                .fill(".choice-option[aria-pressed=true]")
                .await,
            phone
                .paint()
                .fill(".choice-option[aria-pressed=false]")
                .await,
        );
        assert_ne!(chosen, other);
        assert_eq!(phone.app().violations().await, []);
    }
}

#[tokio::test]
async fn in_the_systems_own_colours_the_row_is_still_seen() {
    let site = Site::open();
    let phone = Phone::at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.system_forces_its_colours(true).await;
    phone.row().open().await;
    phone.row().see_all_pictures().await;
    phone.row().plate(3).await;
    see_shapes(&phone, SHAPES_OF_THE_ROW).await;
}

#[tokio::test]
async fn nothing_moves_for_those_who_want_no_motion() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.clock_moves_to("07:05").await;
    phone.alarm().see("Now due at 07:00").await;
    assert_eq!(phone.paint().moving().await, 1, "the alarm pulses");
    phone.system_wants_no_motion().await;
    assert_eq!(phone.paint().moving().await, 0);
}

#[tokio::test]
async fn nothing_shifts_at_the_start_nor_while_time_goes_through_a_shift() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let paint = phone.paint();
    let still = async || assert_eq!(paint.shifts().await, Vec::<String>::new());
    phone.reload().await;
    phone.shift().see_title("Oil the sockets").await;
    still().await;
    phone.clock_moves_to("07:05").await;
    phone.alarm().see("Now due at 07:00").await;
    still().await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    paint.has_settled().await;
    phone.time_passes(Duration::from_secs(12)).await;
    phone.notices().see_nothing_to_undo().await;
    still().await;
    phone.shift().all_turning().await;
    phone.notices().see_kept("all teeth turning").await;
    paint.has_settled().await;
    phone.time_passes(Duration::from_secs(12)).await;
    phone.notices().see_nothing_to_undo().await;
    still().await;
    phone.shift().start_break().await;
    phone.shift().see_title("On break").await;
    paint.has_settled().await;
    phone.clock_moves_to("07:40").await;
    phone.notices().see_nothing_to_undo().await;
    still().await;
    phone.shift().press().await;
    phone.shift().see_title("Oil the sockets").await;
    paint.has_settled().await;
    phone.clock_moves_to("09:00").await;
    phone.notices().see_nothing_to_undo().await;
    still().await;
}

/// Places with answers, checklists, numbers that may stay open, and plates. Not the machine's: there an answer changes the
/// look or the units of all that stands above it.
const PLACES_TO_CHOOSE: &[&str] = &[
    "opening",
    "setup/road-edge",
    "setup/packed-snow",
    "row",
    "sets",
    "measure",
    "marks",
    "books",
];

#[tokio::test]
async fn a_tap_on_an_answer_or_a_checklist_moves_nothing_beside_it_on_a_narrow_phone() {
    let site = Site::open();
    let phone = Phone::at("2026-07-27", "06:45").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    // So high that no notice covers what is to be tapped, at twice the size of the letters too.
    phone.resize(320, 1600).await;
    let mut moved = Vec::new();
    for (code, name) in [("en", "English"), ("de", "Deutsch")] {
        phone.go_to(&format!("{}#machine", site.address())).await;
        phone.languages().choose(name).await;
        phone.languages().see(code, "machine_title").await;
        for place in PLACES_TO_CHOOSE {
            phone.go_to(&format!("{}#{place}", site.address())).await;
            for per_cent in [100, 200] {
                phone.app().enlarge_letters(per_cent).await;
                let found = phone.paint().moved_by_taps().await.into_iter();
                moved.extend(found.map(|it| format!("{code} {place} at {per_cent} %: {it}")));
            }
        }
    }
    assert!(moved.is_empty(), "{moved:#?}");
}

#[tokio::test]
async fn the_first_frame_is_in_the_chosen_look_and_for_the_chosen_thumb() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.system_is_dark(false).await;
    phone.keeps_each_frame().await;
    beginnings::it_knows_its_machine(&phone, &site).await;
    phone.tabs().machine().await;
    phone.machine().look("Night").await;
    phone.machine().thumb("Left").await;
    phone.reload().await;
    phone.machine().see().await;
    let frames = phone.paint().frames().await;
    assert!(3 < frames.len(), "{frames:?}");
    for frame in frames {
        assert_eq!(frame, ("rgb(11, 15, 13)".to_owned(), "left".to_owned()));
    }
}

/// Whether all of something is on a screen of this size.
fn is_whole(stand: Stand, width: f64, height: f64) -> bool {
    0.0 <= stand.left && 0.0 <= stand.top && stand.right <= width && stand.bottom <= height
}

#[tokio::test]
async fn a_phone_on_its_side_shows_what_is_due_with_its_button_on_the_side_of_the_thumb() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    for hand in ["Right", "Left"] {
        phone.tabs().machine().await;
        phone.machine().thumb(hand).await;
        phone.tabs().shift().await;
        phone.resize(800, 360).await;
        phone.shift().see().await;
        let paint = phone.paint();
        let (card, button, tabs, words) = (
            paint.stand(".next-job").await,
            paint.stand(".next-job-button").await,
            paint.stand(".tab-bar").await,
            paint.stand(".next-job-when").await,
        );
        assert!(is_whole(card, 800.0, 360.0), "{card:?}");
        assert!(paint.stand(".shift-line").await.bottom <= 360.0);
        let on_its_side = |it: Stand| {
            if hand == "Right" {
                words.right <= it.left
            } else {
                it.right <= words.left
            }
        };
        assert!(on_its_side(button), "{hand}: {button:?} {words:?}");
        assert!(on_its_side(tabs), "{hand}: {tabs:?} {words:?}");
        phone.resize_back().await;
    }
    // The left thumb has what adds on its side as well.
    phone.tabs().machine().await;
    let (more, less) = (
        phone.paint().stand(".stepper-more").await,
        phone.paint().stand(".stepper-less").await,
    );
    assert!(more.right < less.left, "{more:?} {less:?}");

    phone.resize(800, 360).await;
    phone.clock_moves_to("07:20").await;
    phone.alarm().see("Late 0:20 due at 07:00").await;
    for part in [".alarm-when", ".alarm-done", ".alarm-put-off"] {
        let stand = phone.paint().stand(part).await;
        assert!(is_whole(stand, 800.0, 360.0), "{part} {stand:?}");
    }
}

//! What holds on every screen: nobody is kept out, nothing runs off a narrow phone, every target suits a glove, Back
//! works, and the app can be put on the home screen.

use std::cell::RefCell;
use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::gravity::Lying;
use evenrow_browser_tests::pages::Violation;
use evenrow_browser_tests::server::Site;

/// Goes through every screen in every state that looks different, and has each of them examined under its name.
async fn tour(phone: &mut Phone, site: &Site, examine: impl AsyncFn(&Phone, &str)) {
    let first = phone.first_start();
    phone.open(site).await;
    first.see().await;
    examine(phone, "first").await;
    first.next_step().await;
    first.next_step().await;
    first.see_step(3, "on this phone").await;
    examine(phone, "first-step-3").await;
    first_helps(phone, site, &examine).await;
    first.another_board("twelve").await;
    first.ready().await;
    first.see_wrong("That is not a length.").await;
    examine(phone, "first-refused").await;
    first.board("12 ft (3.66 m)").await;
    first.ready().await;
    phone.start().see().await;
    examine(phone, "start").await;
    phone.start().times().end_at("06:00").await;
    phone.start().start().await;
    phone.notices().see_trouble("before it starts").await;
    examine(phone, "start-refused").await;
    phone.start().times().end_at("15:30").await;
    nothing_yet(phone, site, &examine).await;

    go(phone, site, "setup/gravel", "Gravel, top layer").await;
    examine(phone, "sheet-without-shift").await;
    phone.tabs().shift().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    examine(phone, "shift-without-work").await;
    phone.tabs().setup().await;
    phone.setup().see().await;
    examine(phone, "setup").await;
    sheets(phone, site, &examine).await;

    on_the_steel(phone, site, &examine).await;
    plan_and_pictures(phone, site, &examine).await;

    go(phone, site, "setup/gravel", "Gravel, top layer").await;
    phone.sheet().use_it().await;
    let shift = phone.shift();
    shift.card_once("ahead", "0:15").await;
    examine(phone, "shift-ahead").await;
    reminders(phone, site, &examine).await;
    phone.clock_moves_to("07:05").await;
    phone.alarm().see("Now due at 07:00").await;
    examine(phone, "alarm-due").await;
    phone.alarm().again_in(5).await;
    phone.time_passes(Duration::from_secs(10)).await;
    phone.notices().see_nothing_to_undo().await;
    shift.card_once("due", "Now").await;
    examine(phone, "shift-due").await;
    phone.clock_moves_to("07:20").await;
    phone.alarm().see("Late 0:20 due at 07:00").await;
    examine(phone, "alarm-late").await;
    phone.alarm().again_in(5).await;
    shift.card_once("late", "0:20").await;
    examine(phone, "shift-late").await;
    phone.clock_moves_to("07:25").await;
    phone.alarm().see("Late 0:25 due at 07:00").await;
    phone.alarm().done().await;
    phone.notices().see_kept("sockets oiled").await;
    examine(phone, "shift-oiled").await;
    phone.clock_moves_to("09:30").await;
    shift.all_turning().await;
    phone.notices().see_kept("all teeth turning").await;
    phone.sleeps_until("13:00").await;
    phone.alarm().see("Now due at 12:50").await;
    phone.notices().see_trouble("09:40 (missed)").await;
    examine(phone, "alarm-slept").await;
    phone.notices().understood().await;
    phone.alarm().again_in(15).await;
    shift.start_break().await;
    shift.see_title("On break").await;
    shift.see_drops(&["done-late", "missed", "wanting"]).await;
    examine(phone, "shift-on-break").await;
    shift.press().await;
    shift.see_title("Oil the sockets").await;

    go(phone, site, "opening", "Opening checklist").await;
    phone.checklist().tick(1).await;
    examine(phone, "opening").await;
    go(phone, site, "closing", "Closing checklist").await;
    examine(phone, "closing").await;
    go(phone, site, "look", "Which teeth do not turn?").await;
    phone.look().more("Stiff", 2).await;
    phone.look().see_count("Stiff", "2").await;
    examine(phone, "look").await;
    phone.look().keep().await;
    phone.notices().see_kept("2 stiff").await;
    shift.see_looks_on_the_line(2).await;
    go(phone, site, "note", "Note").await;
    phone
        .note()
        .write("Alder Loop: a soft shoulder after the bridge")
        .await;
    examine(phone, "note").await;
    phone.note().keep().await;
    shift.see().await;
    go(phone, site, "machine", "Machine").await;
    phone.app().unfold_everything().await;
    examine(phone, "machine").await;
    go(phone, site, "version", "Version and licences").await;
    phone.version().see().await;
    examine(phone, "version").await;
    phone
        .version()
        .see_terms("any_spawner", "brings no text of its own")
        .await;
    examine(phone, "version-unfolded").await;
    go(phone, site, "machine", "Machine").await;
    phone.sources().open().await;
    examine(phone, "sources").await;
    phone.app().unfold_everything().await;
    examine(phone, "sources-unfolded").await;
    phone.tabs().book().await;
    phone
        .book()
        .see_shifts(&["2026-07-01, 07:00 to 15:30"])
        .await;
    examine(phone, "book").await;
    phone.book().open_the_last().await;
    let report = phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    assert!(report.contains("Still running"), "{report}");
    examine(phone, "report").await;
    // Before it was put off, so that it rings as well.
    phone.clock_is_set_to("12:57").await;
    phone.notices().see_question("Which time is right?").await;
    phone.alarm().see("Now due at 12:50").await;
    examine(phone, "clock-question").await;
    phone.notices().old_time_is_right().await;
    phone.alarm().done().await;
    go(phone, site, "report/0a", "This report is not on this phone").await;
    examine(phone, "report-not-found").await;

    // On the whole way the browser had nothing to complain of.
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

/// What helps before the first questions are answered: the words of the trade and the way to the home screen.
async fn first_helps(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    go(phone, site, "terms", "Words of the trade").await;
    phone.words().see_all().await;
    examine(phone, "terms").await;
    go(phone, site, "terms/tracks_and_ridges", "Tracks and ridges").await;
    examine(phone, "term").await;
    go(phone, site, "install", "Put it on the home screen").await;
    phone.home_screen().see_steps(7).await;
    examine(phone, "install").await;
    phone.go_to(&format!("{}#shift", site.address())).await;
    phone.first_start().see().await;
}

/// Every screen that has nothing to show yet says what will appear and how.
async fn nothing_yet(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    for (place, heading, says) in [
        ("opening", "Opening checklist", "can be ticked here"),
        ("closing", "Closing checklist", "can be ticked here"),
        ("look", "Which teeth do not turn?", "can be counted here"),
        ("note", "Note", "can be written here"),
        ("row", "The row", "Mount one"),
        ("row-note", "Note on this set", "Mount one"),
        ("measure", "Measure tips", "Mount one"),
        ("stock", "Spares", "Add what lies in the box"),
        ("sets", "Sets of teeth", "it appears here"),
        ("plan", "The day’s plan", "Add the sections"),
        ("book", "Book", "it appears here"),
        ("books", "Books over time", "appear here once"),
        ("season", "Season plan", "Add the roads"),
        (
            "tables",
            "Tables for a spreadsheet",
            "No shift is recorded yet",
        ),
        ("reminders", "Reminders on this phone", "Start a shift"),
    ] {
        go(phone, site, place, heading).await;
        phone.app().see_said(says).await;
        examine(phone, &format!("{place}-nothing-yet")).await;
    }
}

/// The same for the invented district, where the banner stands on every screen.
async fn tour_of_the_district(phone: &mut Phone, site: &Site, examine: impl AsyncFn(&Phone, &str)) {
    phone.open(site).await;
    phone.first_start().see().await;
    phone.district().look_round().await;
    phone.district().see().await;
    phone.shift().see_head("1 of 3 oiled").await;
    examine(phone, "district-shift").await;
    go(phone, site, "records", "Invented district").await;
    examine(phone, "district-not-here").await;
    phone.time_passes(Duration::from_mins(15)).await;
    phone.alarm().see("Now due").await;
    examine(phone, "district-alarm").await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

/// The same for the screens of the row, on a phone that has kept six weeks of an invented road district.
async fn tour_of_the_row(phone: &mut Phone, site: &Site, examine: impl AsyncFn(&Phone, &str)) {
    beginnings::a_season_has_been_kept(phone, site).await;
    books_of_a_season(phone, site, &examine).await;
    let row = phone.row();
    row.open().await;
    row.see_all_pictures().await;
    examine(phone, "row").await;
    row.plate(3).await;
    row.tooth(5).await;
    row.shorter_tip(1).await;
    examine(phone, "row-one-tooth").await;
    row.plate(2).await;
    row.tooth(6).await;
    row.it_is("broken").await;
    row.see_answer("change", "2-6").await;
    row.measure_every("Every 8th").await;
    row.see_measured_tooth("Plate 1, tooth 4").await;
    examine(phone, "measure").await;
    row.back().await;
    go(phone, site, "row-note", "Note on this set").await;
    examine(phone, "row-note").await;
    go(phone, site, "stock", "Spares").await;
    examine(phone, "stock").await;
    go(phone, site, "sets", "Sets of teeth").await;
    phone.app().unfold_everything().await;
    examine(phone, "sets").await;
    row.it_is_stored().await;
    row.see_set("In store.").await;
    examine(phone, "sets-stored").await;
    row.open().await;
    examine(phone, "row-empty").await;
    phone.tabs().machine().await;
    phone.machine().add_another().await;
    phone.machine().see_name("Machine 2").await;
    examine(phone, "machine-second").await;
    records(phone, site, &examine).await;
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

/// The records, with a file in every state, the tables, and the end of all records.
async fn records(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    let screen = phone.records();
    go(phone, site, "records", "Records").await;
    examine(phone, "records").await;
    screen.choose(&phone.has_file("empty.txt", b"")).await;
    screen.see_said("That file is empty.").await;
    examine(phone, "records-refused").await;
    // Cut short, damaged, with an entry in another version and a name that no line holds.
    let lines = concat!(
        r#"{"evenrow_backup":1,"made_ms":1784900000000,"app":"0.1.0","records":9,"crc32":"00000000"}"#,
        "\n",
        r#"{"v":1,"id":"entry-1","count":1,"at_ms":1781524200000,"offset_min":-360,"device":"cab","event":{"machine_described":{"name":"Pine-Ridge-2-with-the-long-moldboard-and-a-name-without-an-end","moldboard_um":3962400,"plates_um":[914400,990600],"pitch_um":38100}}}"#,
        "\n",
        r#"{"v":99,"id":"later","count":9,"at_ms":1784900000000,"device":"cab"}"#,
        "\nrubbish\n"
    );
    let file = phone.has_file("harmed.txt", lines.as_bytes());
    screen.choose(&file).await;
    screen.preview("It ends too soon").await;
    examine(phone, "records-preview").await;
    screen.take_in().await;
    screen.see_taken_in(1).await;
    phone.app().unfold_everything().await;
    examine(phone, "records-taken-in").await;
    go(phone, site, "tables", "Tables for a spreadsheet").await;
    examine(phone, "tables").await;
    go(phone, site, "erase", "Erase all records").await;
    examine(phone, "erase").await;
    screen.erase("Erase without a backup").await;
    phone.first_start().see().await;
    examine(phone, "erased").await;
    go(phone, site, "records", "Records").await;
    examine(phone, "records-first").await;
}

/// The books over time and the season plan, with their forms in trouble and with answers.
async fn books_of_a_season(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    let books = phone.books();
    go(phone, site, "books", "Books over time").await;
    books.open_the_prices().await;
    books.fill("One new tooth", "dear").await;
    books.keep_the_prices().await;
    books.see_wrong("That is not a number.").await;
    examine(phone, "books-refused").await;
    books.fill("One new tooth", "8.25").await;
    books.fill("One litre of oil", "1.40").await;
    books.fill("Litres of oil for one oiling", "0.75").await;
    books.keep_the_prices().await;
    books.see_whole("an hour").await;
    books.sums_for("Week").await;
    books.see_part("Week from 2026-07-20", "40 h").await;
    examine(phone, "books").await;
    let season = phone.season();
    go(phone, site, "season", "Season plan").await;
    season.add("Spruce Road to the old bridge", "long").await;
    season.see_wrong("That is not a number of hours.").await;
    examine(phone, "season-refused").await;
    season.add("Spruce Road to the old bridge", "3.5").await;
    season.see_answer("to work").await;
    examine(phone, "season").await;
}

/// What is measured and set on the machine and the road.
async fn on_the_steel(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    phone.has_sensors().await;
    let angle = phone.cutting_angle();
    go(phone, site, "angle/gravel", "Cutting angle on the steel").await;
    phone.app().unfold_everything().await;
    examine(phone, "angle").await;
    angle.begin().await;
    angle.see_place("On the road").await;
    examine(phone, "angle-on-the-road").await;
    angle.lies("On the road").await;
    angle.see_place("On the plate").await;
    phone.lies(Lying::top_up(57.0)).await;
    angle.lies("On the plate").await;
    angle.see_compared("7° too steep").await;
    angle
        .tape(("Rise, in mm", "238"), ("Run, in mm", "200"))
        .await;
    angle.see_by_tape("50° by tape").await;
    examine(phone, "angle-measured").await;
    phone
        .lies(Lying {
            top_up: 0.0,
            right_down: 30.0,
        })
        .await;
    angle.begin().await;
    angle.lies("On the road").await;
    angle.see_refused("turned sideways").await;
    examine(phone, "angle-refused").await;
    go(phone, site, "crossfall", "Crossfall of the road").await;
    phone.app().unfold_everything().await;
    examine(phone, "crossfall").await;
    go(phone, site, "grading/gravel", "Grading angle by tape").await;
    phone
        .grading()
        .measured("Heel behind toe, in mm", "4000")
        .await;
    phone
        .grading()
        .see_back("The heel cannot lie 4000 mm")
        .await;
    phone.app().unfold_everything().await;
    examine(phone, "grading").await;
    go(phone, site, "load", "Load on each tooth").await;
    phone.load().keep().await;
    phone.load().see_wrong("That is not a mass.").await;
    examine(phone, "load").await;
}

/// The day's plan with its form, the marks on the frame, the pictures: with their troubles and unfolded.
async fn plan_and_pictures(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    let plan = phone.plan();
    go(phone, site, "plan", "The day’s plan").await;
    phone.app().unfold_everything().await;
    examine(phone, "plan-empty").await;
    for (name, length) in [
        ("Alder Loop", "9"),
        ("Spruce Road to the old bridge", "14.25"),
    ] {
        plan.add().await;
        let form = plan.form();
        form.fill("Name of the road", name).await;
        form.fill("Length in km", length).await;
        form.fill("Width of the road in metres, if known", "7")
            .await;
        form.keep().await;
        plan.see_when(name, " h").await;
    }
    phone.app().unfold_everything().await;
    plan.see_not_today("Spruce Road to the old bridge").await;
    examine(phone, "plan").await;
    plan.tick("Alder Loop", true).await;
    plan.see_line(&["done", "ahead"]).await;
    examine(phone, "plan-ticked").await;
    plan.tick("Alder Loop", false).await;
    plan.add().await;
    plan.form().fill("Length in km", "far").await;
    plan.form().fill("Speed in km/h", "12").await;
    plan.form().keep().await;
    plan.form().see_wrong("That is not a length.").await;
    phone.app().unfold_everything().await;
    examine(phone, "section").await;
    go(phone, site, "plan/0a", "Change a section").await;
    examine(phone, "section-gone").await;

    let marks = phone.marks();
    go(phone, site, "marks", "Marks on the frame").await;
    marks.radius("Radius in mm", "wide").await;
    marks.see_wrong("That is not a length.").await;
    examine(phone, "marks-refused").await;
    marks.radius("Radius in mm", "900").await;
    marks.list(7).await;
    examine(phone, "marks").await;

    go(phone, site, "pictures", "The edge at work").await;
    phone.pictures().raise("Grading angle", 15).await;
    phone.pictures().see_refused("80° or more").await;
    examine(phone, "pictures").await;
}

/// What this phone does to remind, in every state of the check, with times handed over that no longer hold.
async fn reminders(phone: &mut Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    let screen = phone.reminders();
    go(phone, site, "reminders", "Reminders on this phone").await;
    screen.large_times().await;
    screen.see_large_times("07:00, 09:40, 12:50").await;
    examine(phone, "reminders").await;
    screen.begin_check().await;
    examine(phone, "reminders-check").await;
    phone.is_out_of_sight(true).await;
    phone.time_passes(Duration::from_mins(1)).await;
    phone.is_out_of_sight(false).await;
    screen.see_asked().await;
    examine(phone, "reminders-asked").await;
    screen.not_heard().await;
    screen.see_bad("stays silent").await;
    examine(phone, "reminders-silent").await;
    phone.tabs().shift().await;
}

/// The sheets that look most different, with every kind of question and everything unfolded.
async fn sheets(phone: &Phone, site: &Site, examine: &impl AsyncFn(&Phone, &str)) {
    let sheet = phone.sheet();
    go(
        phone,
        site,
        "setup/packed-snow",
        "Packed snow or ice, hard road",
    )
    .await;
    sheet.raise("How thick is the layer?", 7).await;
    sheet
        .answer("Does the edge skid instead of biting?", "Yes")
        .await;
    sheet.raise("What depth bites without skidding?", 1).await;
    phone.app().unfold_everything().await;
    examine(phone, "sheet-snow").await;
    go(
        phone,
        site,
        "setup/road-edge",
        "Hard layer along the road’s edge",
    )
    .await;
    phone.app().unfold_everything().await;
    examine(phone, "sheet-edge").await;
    go(phone, site, "setup/soft-milling", "Milling soft surfacing").await;
    sheet.see_verdict("with-care", "With care").await;
    examine(phone, "sheet-milling").await;
    sheet.raise("How warm is the surface?", 1).await;
    sheet.lower("How warm is the surface?", 6).await;
    sheet.see_verdict("do-not", "Do not do it today").await;
    phone.app().unfold_everything().await;
    examine(phone, "sheet-do-not").await;
}

/// Goes to a place by its address, within the page that is open.
async fn go(phone: &Phone, site: &Site, place: &str, heading: &str) {
    phone.go_to(&format!("{}#{place}", site.address())).await;
    phone.app().see_heading(heading).await;
}

/// What axe finds on each screen, on a glass as high as the page: so the bars cover nothing but what they always cover.
async fn barriers(phone: &Phone, screen: &str) -> Vec<(String, Violation)> {
    phone.resize(412, phone.app().height().await.max(915)).await;
    let violations = phone.app().violations().await;
    phone.resize_back().await;
    let named = violations.into_iter().map(|it| (screen.to_owned(), it));
    named.collect()
}

/// Goes through all tours, one phone after the other, on a system that asks for a dark screen or for a light one.
async fn every_tour(dark: bool, examine: impl AsyncFn(&Phone, &str)) {
    let look = if dark { "night" } else { "sun" };
    let site = Site::open();
    let phone = async |day: &str, time: &str| {
        let phone = Phone::at(day, time).await;
        phone.system_is_dark(dark).await;
        phone
    };
    {
        let mut phone = phone("2026-07-01", "06:45").await;
        tour(&mut phone, &site, &examine).await;
        phone.app().see_look(look).await;
    }
    {
        let mut phone = phone("2026-07-25", "17:30").await;
        tour_of_the_row(&mut phone, &site, &examine).await;
        phone.app().see_look(look).await;
    }
    let mut phone = phone("2026-07-24", "17:30").await;
    tour_of_the_district(&mut phone, &site, &examine).await;
    phone.app().see_look(look).await;
}

/// What keeps anybody out of any screen under one look.
async fn all_barriers(dark: bool) -> Vec<(String, Violation)> {
    let found = RefCell::new(Vec::new());
    every_tour(dark, async |phone, screen| {
        let barriers = barriers(phone, screen).await;
        found.borrow_mut().extend(barriers);
    })
    .await;
    found.into_inner()
}

#[tokio::test]
async fn no_screen_keeps_anybody_out_in_the_sun() {
    let found = all_barriers(false).await;
    assert!(found.is_empty(), "{found:#?}");
}

#[tokio::test]
async fn no_screen_keeps_anybody_out_at_night() {
    let found = all_barriers(true).await;
    assert!(found.is_empty(), "{found:#?}");
}

#[tokio::test]
async fn nothing_runs_off_a_narrow_phone_or_one_on_its_side_or_a_tablet_with_letters_twice_as_large()
 {
    let found = RefCell::new(Vec::new());
    every_tour(false, async |phone, screen| {
        for (wide, high) in [(320, 640), (800, 360), (1024, 768)] {
            phone.resize(wide, high).await;
            for per_cent in [100, 200] {
                phone.app().enlarge_letters(per_cent).await;
                let width = phone.app().width().await;
                let reaches = (width.screen, width.reach) == (wide.into(), wide.into());
                if !reaches || !width.beyond.is_empty() {
                    found
                        .borrow_mut()
                        .push((screen.to_owned(), per_cent, width));
                }
            }
            phone.app().enlarge_letters(100).await;
        }
        phone.resize_back().await;
    })
    .await;
    let found = found.into_inner();
    assert!(found.is_empty(), "{found:#?}");
}

#[tokio::test]
async fn every_target_is_high_and_wide_enough_for_a_glove() {
    let found = RefCell::new(Vec::new());
    every_tour(false, async |phone, screen| {
        for width in [320, 412] {
            phone.resize(width, 915).await;
            let targets = phone.app().targets().await;
            assert!(!targets.is_empty(), "{screen}: nothing can be tapped");
            let small = targets.into_iter().filter(|it| !it.is_large_enough());
            found
                .borrow_mut()
                .extend(small.map(|it| (screen.to_owned(), width, it)));
        }
        phone.picture(&format!("every-{screen}")).await;
    })
    .await;
    let found = found.into_inner();
    assert!(found.is_empty(), "{found:#?}");
}

#[tokio::test]
async fn back_leads_from_the_sheet_to_the_works_to_the_shift() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.first_start().answer_as_most_do().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    phone.tabs().setup().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.back().await;
    phone.setup().see().await;
    phone.back().await;
    phone.shift().see_title("Choose today’s work").await;
}

#[tokio::test]
async fn one_tap_changes_the_look_and_a_reload_keeps_it() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.system_is_dark(false).await;
    beginnings::it_knows_its_machine(&phone, &site).await;
    phone.app().see_look("sun").await;
    phone.tabs().other_look().await;
    phone.app().see_look("night").await;
    phone.reload().await;
    phone.app().see_look("night").await;

    // As the phone again: it follows the system at once.
    phone.tabs().machine().await;
    assert_eq!(phone.machine().look_picked().await, "Night");
    phone.machine().look("As the phone").await;
    phone.app().see_look("sun").await;
    phone.system_is_dark(true).await;
    phone.app().see_look("night").await;
}

#[tokio::test]
async fn the_app_can_be_put_on_the_home_screen() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    let manifest = phone.app().manifest().await;
    for key in [
        "name",
        "short_name",
        "start_url",
        "scope",
        "theme_color",
        "background_color",
    ] {
        let value = manifest[key].as_str().unwrap_or_default();
        assert!(!value.is_empty(), "the manifest has no {key}: {manifest}");
    }
    assert_eq!(manifest["display"], "standalone");

    let icons = phone.app().icons().await;
    for icon in &icons {
        assert_eq!(icon.shown, icon.stated, "{}", icon.address);
    }
    for (size, purpose) in [
        ("192x192", "any"),
        ("512x512", "any"),
        ("512x512", "maskable"),
    ] {
        let found = icons
            .iter()
            .any(|it| it.stated == size && it.purpose == purpose);
        assert!(found, "no {purpose} icon of {size} among {icons:#?}");
    }

    // The browser itself is asked last: it knows rules of its own.
    let objections = phone.objections_to_installing().await;
    assert_eq!(objections, Vec::<String>::new());
}

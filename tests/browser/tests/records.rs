//! Records that outlive the phone: backups and what they bring elsewhere, files that are none, tables, and the end of all
//! records, which can be taken back.
//!
//! Two phones meet by a file alone. The first is put away before the second is taken up, for no more than two may be at
//! work at a time, in all stories together.

use std::fs;
use std::path::PathBuf;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::oddity::{HandedOver, Oddity};
use evenrow_browser_tests::server::Site;

const SEASON: &str = include_str!("../../journals/season.jsonl");

const BAD: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../journals/bad");

/// A phone that keeps what it hands over where a story can look into it.
async fn phone_at(day: &str, time: &str) -> Phone {
    let mut phone = Phone::at(day, time).await;
    phone.is_odd(Oddity::ShareSheet).await;
    phone
}

/// The records that the phone keeps of its own once it knows its machine; the screen of the records is open.
async fn records_of_its_own(phone: &Phone, site: &Site) -> Vec<String> {
    beginnings::it_knows_its_machine(phone, site).await;
    let own = phone.app().records_kept().await;
    to_the_records(phone).await;
    own
}

/// A file of the folder of bad ones, on the phone.
fn bad(phone: &Phone, name: &str) -> PathBuf {
    let bytes = fs::read(format!("{BAD}/{name}"));
    phone.has_file(name, &bytes.expect("it stands in the folder"))
}

async fn to_the_records(phone: &Phone) {
    phone.tabs().book().await;
    phone.book().to_records().await;
    phone.records().see().await;
}

/// The backup of a phone, which is then put away.
async fn backup_of(phone: Phone) -> HandedOver {
    to_the_records(&phone).await;
    phone.records().back_up().await;
    phone.records().see_handed("The file is handed over.").await;
    phone.handed_over(1).await.remove(0)
}

/// What the workshop’s phone has kept, as a file.
async fn season_as_a_file(site: &Site) -> HandedOver {
    let phone = phone_at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, site).await;
    backup_of(phone).await
}

/// The records of a backup, without its first line.
fn records_of(file: &HandedOver) -> Vec<String> {
    file.text.lines().skip(1).map(str::to_owned).collect()
}

#[tokio::test]
async fn two_phones_that_exchange_their_backups_hold_the_records_of_both() {
    let site = Site::open();
    let file = season_as_a_file(&site).await;
    assert_eq!(file.name, "evenrow-backup-2026-07-24.txt");
    assert_eq!(file.kind, "text/plain");
    assert!(
        file.text.starts_with("{\"evenrow_backup\":1,"),
        "{}",
        file.text
    );
    let season: Vec<&str> = SEASON.lines().collect();
    assert_eq!(records_of(&file), season);

    let phone = phone_at("2026-07-25", "06:45").await;
    let own = records_of_its_own(&phone, &site).await;
    let records = phone.records();
    records
        .choose(&phone.has_file(&file.name, file.text.as_bytes()))
        .await;
    let told = records
        .preview("A backup made on 2026-07-24. It has come through whole.")
        .await;
    for line in [
        "New records: 349",
        "Shifts: 30",
        "Sets of teeth: 2",
        "Recorded from 2026-06-15 to 2026-07-24",
        "Machines: Pine Ridge 2",
    ] {
        assert!(told.iter().any(|it| it == line), "{told:#?}");
    }
    phone.picture("records-preview").await;
    // Nothing has happened yet.
    assert_eq!(phone.app().records_kept().await, own);
    records.leave().await;
    assert_eq!(phone.app().records_kept().await, own);

    records
        .choose(&phone.has_file(&file.name, file.text.as_bytes()))
        .await;
    records.preview("whole").await;
    records.take_in().await;
    records.see_taken_in(349).await;
    let mut both: Vec<String> = season.iter().map(|it| (*it).to_owned()).collect();
    both.extend(own.clone());
    both.sort();
    assert_eq!(phone.app().records_kept().await, both);

    // Again it brings nothing.
    records
        .choose(&phone.has_file(&file.name, file.text.as_bytes()))
        .await;
    let told = records.preview("whole").await;
    assert_eq!(told, ["Nothing new. Here already: 349"]);
    assert!(records.offers_nothing().await);
    records.leave().await;

    // The way back: the workshop takes in what this phone has.
    records.back_up().await;
    records.see_backup("It holds all records.").await;
    let back = phone.handed_over(1).await.remove(0);
    drop(phone);
    let workshop = phone_at("2026-07-26", "12:00").await;
    beginnings::a_season_has_been_kept(&workshop, &site).await;
    to_the_records(&workshop).await;
    let records = workshop.records();
    records
        .choose(&workshop.has_file(&back.name, back.text.as_bytes()))
        .await;
    let told = records.preview("whole").await;
    assert!(
        told.contains(&format!("New records: {}", own.len())),
        "{told:#?}"
    );
    records.take_in().await;
    records.see_taken_in(own.len()).await;
    assert_eq!(workshop.app().records_kept().await, both);
}

#[tokio::test]
async fn a_new_phone_begins_with_a_backup_and_a_dead_battery_costs_nothing_of_it() {
    let site = Site::open();
    let file = season_as_a_file(&site).await;
    let mut phone = phone_at("2026-07-27", "06:30").await;
    phone.open(&site).await;
    phone.first_start().from_a_file().await;
    let records = phone.records();
    records.see().await;
    phone.picture("records-first").await;
    records
        .choose(&phone.has_file(&file.name, file.text.as_bytes()))
        .await;
    records.preview("whole").await;
    records.take_in().await;
    records.see_taken_in(349).await;
    phone.lose_power_and_start_again().await;
    phone.is_odd(Oddity::ShareSheet).await;
    phone.open(&site).await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    assert_eq!(phone.app().records_kept().await.len(), 349);

    // What it hands on is what it was handed, byte for byte.
    let again = backup_of(phone).await;
    assert_eq!(records_of(&again), records_of(&file));
}

/// What the operator reads of each file of the folder that brings nothing.
const REFUSED: [(&str, &str); 10] = [
    ("empty.txt", "That file is empty."),
    ("blank.txt", "That file is empty."),
    ("mark-only.txt", "That file is empty."),
    ("utf-16.txt", "how the letters of that file are written"),
    (
        "utf-16-no-mark.txt",
        "how the letters of that file are written",
    ),
    ("picture.png", "That file is no backup of this app."),
    ("other-app.txt", "That file is no backup of this app."),
    ("table.txt", "That file is no backup of this app."),
    ("page.txt", "That file is no backup of this app."),
    ("newer-format.txt", "made by a newer version of this app"),
];

/// What the operator reads of each file of the folder that came to harm: of the whole, and of a part of it.
const HARMED: [(&str, &str, &str); 13] = [
    (
        "cut-in-a-line.txt",
        "has changed on the way",
        "Damaged and left out, by line: 6",
    ),
    (
        "cut-between-lines.txt",
        "It ends too soon",
        "New records: 4",
    ),
    (
        "header-only.txt",
        "It ends too soon",
        "There are no records in it.",
    ),
    ("count-beyond-all.txt", "It ends too soon", "New records: 5"),
    (
        "digit-changed.txt",
        "has changed on the way",
        "New records: 5",
    ),
    (
        "line-damaged.txt",
        "has changed on the way",
        "Damaged and left out, by line: 4",
    ),
    (
        "latin-1.txt",
        "has changed on the way",
        "Damaged and left out, by line: 5",
    ),
    (
        "twice.txt",
        "has changed on the way",
        "Damaged and left out, by line: 7",
    ),
    (
        "header-damaged.txt",
        "A list of records.",
        "Damaged and left out, by line: 1",
    ),
    (
        "list-in-a-mail.txt",
        "A list of records.",
        "Damaged and left out, by line: 1, 9, 10",
    ),
    (
        "deep.txt",
        "A list of records.",
        "Damaged and left out, by line: 2",
    ),
    (
        "list-long-line.txt",
        "A list of records.",
        "Damaged and left out, by line: 2",
    ),
    (
        "whole-newer-records.txt",
        "whole",
        "Written by a newer version and left out: 1.",
    ),
];

#[tokio::test]
async fn every_file_that_came_to_harm_gets_a_sentence_and_changes_nothing() {
    let site = Site::open();
    let phone = phone_at("2026-07-01", "06:45").await;
    let own = records_of_its_own(&phone, &site).await;
    let records = phone.records();
    for (name, sentence) in REFUSED {
        records.choose(&bad(&phone, name)).await;
        records.see_said(sentence).await;
    }
    phone.picture("records-refused").await;
    // A megabyte more than is read.
    let huge = vec![b' '; 65 * 1024 * 1024];
    records.choose(&phone.has_file("huge.txt", &huge)).await;
    records
        .see_said("That file has 68.2 MB. A backup has 67.1 MB at most")
        .await;
    for (name, whole, part) in HARMED {
        records.choose(&bad(&phone, name)).await;
        let told = records.preview(whole).await;
        assert!(told.iter().any(|it| it.contains(part)), "{name}: {told:#?}");
        if name == "twice.txt" {
            phone.picture("records-harmed").await;
        }
        records.leave().await;
    }
    assert_eq!(phone.app().records_kept().await, own);

    // What a newer version wrote is left out, and this phone goes on recording.
    records
        .choose(&bad(&phone, "whole-newer-records.txt"))
        .await;
    records.preview("whole").await;
    records.take_in().await;
    records.see_taken_in(5).await;
    phone.tabs().shift().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
}

#[tokio::test]
async fn hostile_text_stays_text_on_the_screen_and_in_the_table() {
    let site = Site::open();
    let phone = phone_at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.first_start().from_a_file().await;
    let records = phone.records();
    records.choose(&bad(&phone, "whole-hostile-text.txt")).await;
    records.preview("whole").await;
    records.take_in().await;
    records.see_taken_in(5).await;
    phone.tabs().book().await;
    phone.book().open_the_last().await;
    let report = phone
        .report()
        .read("Shift report: Alder 1, 2026-06-08")
        .await;
    assert!(
        report.contains("<script>document.title='x'</script>"),
        "{report}"
    );
    assert_eq!(phone.complaints().await, Vec::<String>::new());

    to_the_records(&phone).await;
    records.to_tables().await;
    phone.picture("tables").await;
    records.table("Notes").await;
    records.table("Shifts").await;
    let files = phone.handed_over(2).await;
    assert_eq!(files[0].name, "evenrow-notes-2026-07-01.csv");
    assert_eq!(files[0].kind, "text/csv");
    let note = files[0].text.lines().nth(1).unwrap();
    assert!(note.contains(",\"'=HYPERLINK(\"\"http"), "{note}");
    let shift = files[1].text.lines().nth(1).unwrap();
    assert!(
        shift.starts_with("\"Alder 1\",2026-06-08T01:00:00-06:00,"),
        "{shift}"
    );
}

#[tokio::test]
async fn a_shift_goes_on_on_another_phone_that_takes_it_in_from_a_file() {
    let site = Site::open();
    let file = {
        let mut phone = phone_at("2026-07-01", "06:45").await;
        phone.open(&site).await;
        phone.first_start().answer_as_most_do().await;
        phone.start().start().await;
        phone.shift().see_title("Choose today’s work").await;
        phone.shift().press().await;
        phone.setup().choose("Gravel, top layer").await;
        phone.sheet().use_it().await;
        phone.clock_moves_to("07:00").await;
        phone.alarm().done().await;
        phone.notices().see_kept("sockets oiled").await;
        phone.clock_moves_to("08:00").await;
        to_the_records(&phone).await;
        phone.picture("records-running").await;
        phone.records().hand_over().await;
        phone.handed_over(1).await.remove(0)
    };
    assert_eq!(file.name, "evenrow-shift-2026-07-01.txt");

    // Whoever takes over has a phone with a machine of its own.
    let mut phone = phone_at("2026-07-01", "08:05").await;
    phone.open(&site).await;
    phone.first_start().answer_as_most_do().await;
    phone.tabs().machine().await;
    phone.machine().name_it("Old grader").await;
    phone.machine().keep().await;
    phone.tabs().see_machine("Old grader").await;
    to_the_records(&phone).await;
    let records = phone.records();
    records
        .choose(&phone.has_file(&file.name, file.text.as_bytes()))
        .await;
    records.preview("whole").await;
    records.take_in().await;
    phone.picture("records-other-machine").await;
    records.work_with("My grader").await;
    phone.tabs().see_machine("My grader").await;
    phone.tabs().shift().await;
    let shift = phone.shift();
    shift.see_drops(&["done", "planned", "planned"]).await;
    phone.clock_moves_to("09:40").await;
    phone.alarm().done().await;
    shift.see_drops(&["done", "done", "planned"]).await;
}

#[tokio::test]
async fn erasing_asks_for_a_backup_first_reaches_every_window_and_can_be_taken_back() {
    let site = Site::open();
    let mut phone = phone_at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.open_another_tab(&site).await;
    phone.tabs().see_machine("Pine Ridge 2").await;
    phone.bring_tab(0).await;
    to_the_records(&phone).await;
    let records = phone.records();
    records
        .see_space("Records: 349, 31 kB", "With the app itself: ")
        .await;
    records.to_erase().await;
    records.see_asked_for_a_backup().await;
    phone.picture("erase").await;
    records.back_up().await;
    assert_eq!(phone.handed_over(1).await.len(), 1);
    records.erase("Erase them all").await;
    records.see_erased(349).await;
    phone.first_start().see().await;
    phone.picture("erased").await;
    assert_eq!(phone.app().records_kept().await, Vec::<String>::new());
    phone.bring_tab(1).await;
    phone.first_start().see().await;

    // What is recorded in between stays beside what is put back.
    phone.bring_tab(0).await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    let since = phone.app().records_kept().await;
    assert!(!since.is_empty());
    records.put_back().await;
    phone.tabs().book().await;
    phone.book().see_backup("Last backup: 2026-07-24.").await;
    let kept = phone.app().records_kept().await;
    assert_eq!(kept.len(), 349 + since.len());
    assert!(SEASON.lines().all(|it| kept.iter().any(|kept| kept == it)));
    phone.bring_tab(1).await;
    phone.tabs().book().await;
    assert_eq!(phone.book().shifts().await, 30);

    // What was erased and not put back is gone for good.
    to_the_records(&phone).await;
    records.to_erase().await;
    records.erase("Erase without a backup").await;
    records.see_erased(kept.len()).await;
    phone.reload().await;
    phone.first_start().see().await;
    assert_eq!(phone.app().records_kept().await, Vec::<String>::new());
}

#[tokio::test]
async fn the_book_raises_a_backup_that_is_missing_or_old_and_is_quiet_after_one() {
    let site = Site::open();
    let mut phone = phone_at("2026-06-20", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.tabs().book().await;
    phone
        .book()
        .see_backup("No backup yet. Records on this phone: 349.")
        .await;
    phone.clock_moves_to_day("2026-07-24", "17:30").await;
    phone.reload().await;
    phone.tabs().book().await;
    phone
        .book()
        .see_backup_raised("There is no backup yet. Records on this phone: 349.")
        .await;
    phone.picture("book-raised").await;
    phone.book().to_records().await;
    phone.records().back_up().await;
    phone
        .records()
        .see_backup("Last backup: 2026-07-24. It holds all records.")
        .await;
    phone.clock_moves_to_day("2026-08-03", "17:30").await;
    phone.reload().await;
    phone.tabs().book().await;
    phone.book().see_backup("It holds all records.").await;
    phone.tabs().shift().await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    phone.tabs().book().await;
    phone
        .book()
        .see_backup_raised("The last backup is 10 days old. Records in no backup: 1.")
        .await;
}

#[tokio::test]
async fn the_same_entry_with_other_bytes_is_kept_and_shown_in_both_versions() {
    let site = Site::open();
    let phone = phone_at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    let line = SEASON.lines().next().unwrap();
    let other = line.replace("Pine Ridge 2", "Pine Ridge 7");
    to_the_records(&phone).await;
    let records = phone.records();
    records
        .choose(&phone.has_file("other.txt", other.as_bytes()))
        .await;
    let told = records.preview("A list of records.").await;
    assert!(
        told.iter()
            .any(|it| it.starts_with("Entries in two versions: 1.")),
        "{told:#?}"
    );
    records.take_in().await;
    records.see_taken_in(1).await;
    let shown = records.conflicts("Entries in two versions: 1").await;
    assert_eq!(shown.len(), 1);
    assert!(
        shown[0].contains("Pine Ridge 2") && shown[0].contains("Pine Ridge 7"),
        "{shown:?}"
    );
    let kept = phone.app().records_kept().await;
    assert!(kept.contains(&line.to_owned()) && kept.contains(&other));
    phone.tabs().see_machine("Pine Ridge 2").await;
}

/// A file of so many notes, as a plain list.
fn notes(many: usize) -> String {
    let note = |at: usize| {
        format!(
            "{{\"v\":1,\"id\":\"note-{at}\",\"count\":{at},\"at_ms\":{},\"offset_min\":180,\"device\":\"other\",\
             \"event\":{{\"noted\":{{\"shift\":\"none\",\"text\":\"Alder Loop, culvert {at}\"}}}}}}\n",
            1_782_878_400_000_u64 + at as u64
        )
    };
    (0..many).map(note).collect()
}

#[tokio::test]
async fn a_long_file_shows_how_far_it_is_and_is_stopped_without_a_trace() {
    let site = Site::open();
    let phone = phone_at("2026-07-01", "06:45").await;
    let own = records_of_its_own(&phone, &site).await;
    let records = phone.records();
    let long = phone.has_file("long.txt", notes(100_000).as_bytes());
    records.choose(&long).await;
    records.see_progress("Reading the file: ").await;
    records.stop().await;
    records.see_said("Stopped. Nothing was taken in").await;

    records.choose(&long).await;
    let told = records.preview("A list of records.").await;
    assert_eq!(told[0], "New records: 100000");
    records.take_in().await;
    records.see_progress("Keeping the records: ").await;
    records.stop().await;
    records.see_said("Stopped. Nothing was taken in").await;
    assert_eq!(phone.app().records_kept().await, own);
}

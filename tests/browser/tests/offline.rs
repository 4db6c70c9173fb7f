//! Without a network, and without a server: the app comes up, records a shift, and asks nobody.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::process::required;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn a_whole_shift_is_recorded_after_the_server_has_died() {
    let mut site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.reload().await;

    phone.first_start().answer_as_most_do().await;
    phone.start().start().await;
    let shift = phone.shift();
    shift.press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().answer("How is the ground?", "Moist").await;
    phone.sheet().use_it().await;
    shift.see_drops(&["planned", "planned"]).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    shift.see_drops(&["done", "planned"]).await;
    shift.write_note().await;
    phone
        .note()
        .write("Alder Loop: no signal past the quarry")
        .await;
    phone.note().keep().await;
    phone.notices().see_kept("note").await;

    phone.clear_the_network_cache().await;
    phone.reload().await;
    shift.see_head("Gravel, top layer").await;
    shift.see_drops(&["done", "planned"]).await;

    phone.clock_moves_to("15:30").await;
    phone.alarm().again_in(15).await;
    shift.to_closing().await;
    phone.checklist().end_the_shift().await;
    let title = "Shift report: My grader, 2026-07-01";
    let report = phone.report().read(title).await;
    for told in [
        "Due 07:00: oiled 07:00",
        "MISSED",
        "Alder Loop: no signal past the quarry",
    ] {
        assert!(
            report.contains(told),
            "the report does not say {told:?}:\n{report}"
        );
    }
    phone.reload().await;
    assert_eq!(phone.report().read(title).await, report);

    // Nor does anything change when there is a server again.
    site.come_back();
    phone.reload().await;
    assert_eq!(phone.report().read(title).await, report);
}

#[tokio::test]
async fn an_address_below_the_app_leads_to_the_app_without_a_network() {
    let mut site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone
        .go_to(&format!("{}shift/of/yesterday", site.address()))
        .await;
    phone.first_start().see().await;
}

#[tokio::test]
async fn the_app_keeps_all_that_it_loads_and_asks_nobody_else() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    let loaded = phone.app().loaded().await;
    let kept = phone.app().kept().await;
    assert!(
        loaded
            .iter()
            .any(|it| it.rsplit('.').next() == Some("wasm")),
        "the app itself is not among {loaded:?}"
    );
    for address in &loaded {
        assert!(
            address.starts_with(&site.address()),
            "{address} is not ours"
        );
        // A drawing is a part of a file.
        let file = address.split('#').next().unwrap_or(address);
        assert!(
            kept.iter().any(|it| it == file),
            "{address} is not kept for times without a network: {kept:?}"
        );
    }
    // And it could not if it wanted to: the page's own policy stands in the way, not the missing network.
    let refused = phone.app().policy_refuses("https://evenrow.example/").await;
    assert_eq!(refused, "connect-src");
}

#[tokio::test]
async fn a_newer_version_waits_until_the_operator_takes_it() {
    let folder = Folder::copy_of(&PathBuf::from(required("EVENROW_DIST")));
    let site = Site::of(folder.path.clone());
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    let old = phone.app().kept_under().await;
    phone.first_start().answer_as_most_do().await;
    phone.start().start().await;
    phone.shift().see().await;

    folder.becomes_newer();
    // The phone comes back to the app two hours later, and the app looks for a newer version.
    phone.clock_moves_to("08:45").await;
    phone.is_out_of_sight(false).await;
    phone.notices().see_update().await;
    assert!(
        phone.app().kept_under().await.contains(&old[0]),
        "the old version went before its time"
    );
    phone.shift().see().await;

    phone.notices().take_the_update().await;
    phone.app().see_kept_under_another_name_than(&old[0]).await;
    phone.app().started().await;
    phone.shift().see().await;
}

#[tokio::test]
async fn a_newer_version_with_a_damaged_file_is_never_taken() {
    let folder = Folder::copy_of(&PathBuf::from(required("EVENROW_DIST")));
    let mut site = Site::of(folder.path.clone());
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    let old = phone.app().kept_under().await;

    folder.becomes_newer();
    folder.damage("words/en.txt");
    assert_eq!(phone.app().look_for_a_newer_version().await, "redundant");
    assert_eq!(phone.app().kept_under().await, old);
    site.die();
    phone.reload().await;
    phone.first_start().see().await;
}

#[tokio::test]
async fn a_list_of_numbers_that_cannot_be_read_is_said_to_be_and_can_be_had_again() {
    let folder = Folder::copy_of(&PathBuf::from(required("EVENROW_DIST")));
    let list = folder.lose("numbers/en.txt");
    let site = Site::of(folder.path.clone());
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
    phone.go_to(&format!("{}#sources", site.address())).await;
    let sources = phone.sources();
    sources.see_that_it_cannot_be_read().await;
    folder.get_back("numbers/en.txt", &list);
    sources.try_again().await;
    sources.see().await;
}

#[tokio::test]
async fn a_language_whose_words_cannot_be_had_is_said_to_be_missing_and_the_old_one_stays() {
    let folder = Folder::copy_of(&PathBuf::from(required("EVENROW_DIST")));
    folder.lose("words/fi.txt");
    let site = Site::of(folder.path.clone());
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.languages().choose("Suomi").await;
    phone.languages().see_missing().await;
    phone.languages().see("en", "first_lead").await;
    phone.reload().await;
    phone.languages().see("en", "first_lead").await;
}

/// A folder with the built app that can become another version. It goes with the story.
struct Folder {
    path: PathBuf,
}

impl Folder {
    fn copy_of(built: &Path) -> Folder {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("evenrow-story-{}-version-{count}", std::process::id());
        let folder = Folder {
            path: std::env::temp_dir().join(name),
        };
        copy(built, &folder.path);
        folder
    }

    /// A file arrives with other bytes than the version lists.
    fn damage(&self, file: &str) {
        let file = self.path.join(file);
        let whole = fs::read_to_string(&file).expect("a file of the app");
        fs::write(file, format!("{whole}# cut short")).expect("a damaged file");
    }

    /// A file is not there; what it held.
    fn lose(&self, file: &str) -> Vec<u8> {
        let file = self.path.join(file);
        let held = fs::read(&file).expect("a file of the app");
        fs::remove_file(file).expect("a lost file");
        held
    }

    /// A lost file is there again.
    fn get_back(&self, file: &str, held: &[u8]) {
        fs::write(self.path.join(file), held).expect("a file of the app");
    }

    /// One of its files changes, and with it the version that the service worker carries.
    fn becomes_newer(&self) {
        let file = self.path.join("sw.js");
        let worker = fs::read_to_string(&file).expect("the service worker");
        let at = worker.find("const VERSION = '").expect("the version") + "const VERSION = '".len();
        fs::write(file, format!("{}newer-{}", &worker[..at], &worker[at..]))
            .expect("a newer worker");
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be removed lies in the system's folder for such things.
        drop(fs::remove_dir_all(&self.path));
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder for the copy");
    for entry in fs::read_dir(from).expect("the built app") {
        let entry = entry.expect("a file of the built app");
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).expect("a copy of a file");
        }
    }
}

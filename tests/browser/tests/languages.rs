//! The app speaks the language of the phone, or the one that the operator chooses, on every screen and without the network.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

/// Every language by its code and by what it calls itself.
const LANGUAGES: [(&str, &str); 5] = [
    ("de", "Deutsch"),
    ("en", "English"),
    ("fi", "Suomi"),
    ("fr", "Français"),
    ("sv", "Svenska"),
];

#[tokio::test]
async fn the_app_speaks_the_language_of_the_phone_until_another_is_chosen_and_keeps_what_was_typed()
{
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.system_speaks("nb-NO,fi-FI,en").await;
    phone.open(&site).await;
    let (languages, first) = (phone.languages(), phone.first_start());
    languages.see("fi", "first_lead").await;
    for (_, name) in LANGUAGES {
        languages.see_names(name).await;
    }
    let loaded = phone.app().loaded().await;
    let words: Vec<_> = loaded.iter().filter(|it| it.contains("/words/")).collect();
    assert!(
        words.iter().all(|it| it.ends_with("words/fi.txt")),
        "{words:?}"
    );
    phone.picture("first-fi").await;

    languages.mark_the_page().await;
    languages.choose("English").await;
    languages.see("en", "first_lead").await;
    first.another_board("4,27").await;
    languages.choose("Svenska").await;
    languages.see("sv", "first_lead").await;
    assert!(
        languages.is_the_marked_page().await,
        "the page was reloaded"
    );
    phone.reload().await;
    languages.see("sv", "first_lead").await;
    languages.choose("English").await;
    languages.see("en", "first_lead").await;
    assert_eq!(first.another_board_typed().await, "4,27");
    first.ready().await;
    phone.start().see().await;
}

#[tokio::test]
async fn days_and_numbers_are_written_as_the_language_writes_them_and_all_languages_work_offline() {
    let mut site = Site::open();
    let phone = Phone::at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    for (code, name, day, pitch) in [
        ("fi", "Suomi", "24.7.2026", "38,1"),
        ("sv", "Svenska", "2026-07-24", "38,1"),
        ("de", "Deutsch", "24.7.2026", "38,1"),
        ("fr", "Français", "24/07/2026", "38,1"),
        ("en", "English", "2026-07-24", "38.1"),
    ] {
        phone.tabs().machine().await;
        phone.languages().choose(name).await;
        phone.languages().see(code, "machine_title").await;
        phone.app().unfold_everything().await;
        phone.languages().see_said(pitch).await;
        phone.go_to(&format!("{}#book", site.address())).await;
        phone.languages().see_said(day).await;
    }
}

#[tokio::test]
async fn an_app_that_does_not_start_says_so_in_the_language_of_the_phone() {
    let site = Site::open();
    for (language, heading) in [
        ("fi", "Evenrow ei käynnistynyt"),
        ("sv", "Evenrow startade inte"),
        ("de", "Evenrow ist nicht gestartet"),
        ("fr", "Evenrow n’a pas démarré"),
        ("nb", "Evenrow did not start"),
    ] {
        let mut phone = Phone::at("2026-07-01", "06:45").await;
        phone.system_speaks(language).await;
        phone.program_arrives(false).await;
        phone.open_in_vain(&site).await;
        for _ in 0..12 {
            phone.time_passes(std::time::Duration::from_secs(1)).await;
        }
        phone.dead().see(heading).await;
        phone.picture(&format!("dead-{language}")).await;
    }
}

#[tokio::test]
async fn where_a_word_may_break_on_the_screen_is_not_told_to_other_programs() {
    const BREAK: char = '\u{ad}';
    let site = Site::open();
    let phone = Phone::at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.tabs().machine().await;
    phone.languages().choose("Deutsch").await;
    phone.languages().see("de", "machine_title").await;
    let report = format!("{}#report/entry-100", site.address());
    phone.go_to(&report).await;
    let read = phone.report().read("Pine Ridge 2").await;
    assert!(read.contains(BREAK), "no word of it may break: {read}");
    phone.report().copy_and_be_told("Erledigt.").await;
    let copied = phone.clipboard().await;
    assert!(copied.contains("Pine Ridge 2"), "{copied}");
    assert!(!copied.contains(BREAK), "{copied}");
}

/// Every place that a season and a running shift have something to show in, and a screen of each kind.
const PLACES: &[&str] = &[
    "shift",
    "opening",
    "closing",
    "look",
    "note",
    "reminders",
    "row",
    "row-note",
    "measure",
    "stock",
    "sets",
    "setup",
    "setup/gravel",
    "setup/packed-snow",
    "setup/soft-milling",
    "setup/road-edge",
    "angle/gravel",
    "crossfall",
    "grading/gravel",
    "load",
    "pictures/gravel",
    "marks",
    "plan",
    "plan/new",
    "book",
    "books",
    "season",
    "records",
    "tables",
    "erase",
    "machine",
    "report/entry-100",
];

/// What runs off a narrow phone on the screen that is shown, with everything unfolded.
async fn off_the_glass(phone: &Phone, screen: &str) -> Vec<String> {
    // Until it has been drawn, the screen before is measured.
    phone.resize(320, 640).await;
    phone.app().unfold_everything().await;
    let broken = phone.app().broken_words().await.into_iter();
    let mut found: Vec<String> = broken
        .map(|it| format!("{screen}: {it} is broken"))
        .collect();
    for per_cent in [100, 200] {
        phone.app().enlarge_letters(per_cent).await;
        let width = phone.app().width().await;
        if (width.screen, width.reach) != (320, 320) || !width.beyond.is_empty() {
            found.push(format!("{screen} at {per_cent} %: {width:?}"));
        }
    }
    phone.app().enlarge_letters(100).await;
    found
}

/// English is walked through in every state by `every_screen`; here are the words of the others.
#[tokio::test]
async fn nothing_runs_off_a_narrow_phone_in_any_language() {
    let site = Site::open();
    let mut found = Vec::new();
    {
        let phone = Phone::at("2026-07-01", "06:45").await;
        phone.resize(320, 640).await;
        phone.open(&site).await;
        for (code, name) in LANGUAGES {
            phone.languages().choose(name).await;
            phone.languages().see(code, "first_lead").await;
            found.extend(off_the_glass(&phone, &format!("{code} first")).await);
        }
    }
    let mut phone = Phone::at("2026-07-27", "06:45").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    phone.clock_moves_to("07:20").await;
    phone.alarm().again_in(5).await;
    for (code, name) in LANGUAGES.into_iter().filter(|(code, _)| *code != "en") {
        phone.go_to(&format!("{}#machine", site.address())).await;
        phone.languages().choose(name).await;
        phone.languages().see(code, "machine_title").await;
        phone.app().unfold_everything().await;
        phone.picture(&format!("machine-{code}")).await;
        for place in PLACES {
            phone.go_to(&format!("{}#{place}", site.address())).await;
            found.extend(off_the_glass(&phone, &format!("{code} {place}")).await);
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

//! What comes from outside stays outside: nobody frames the app, nobody is asked for anything, and hostile text is text.
//!
//! Never here: files that came to harm (`records`), and the words of the policy itself (`app/xtask/src/headers.rs`).

use std::fs;
use std::path::Path;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::process::required;
use evenrow_browser_tests::server::Site;

/// Markup, addresses that run, names that a careless program would merge into every object, and formulas.
const HOSTILE: [&str; 5] = [
    "<img src=x onerror=\"storyHit=1\">",
    "<script>storyHit=1</script>",
    "javascript:storyHit=1",
    "__proto__",
    "=HYPERLINK(\"http://evil.example\",\"x\")",
];

#[tokio::test]
async fn hostile_text_in_the_fields_of_a_shift_stays_text_and_touches_nothing() {
    let site = Site::open();
    let phone = beginnings::a_shift_on_gravel(&site).await;
    for text in HOSTILE {
        phone.shift().write_note().await;
        phone.note().see().await;
        phone.note().write(text).await;
        phone.note().keep().await;
        phone.notices().see_kept("note").await;
        phone.tabs().machine().await;
        phone.machine().see().await;
        phone.machine().name_it(text).await;
        phone.machine().keep().await;
        phone.tabs().see_machine(text).await;
        assert_eq!(phone.app().intruders().await, Vec::<String>::new());
        phone.tabs().shift().await;
        phone.shift().see().await;
    }
    phone.reload().await;
    phone.tabs().book().await;
    phone.book().open_the_last().await;
    let report = phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    for text in HOSTILE {
        assert!(report.contains(text), "{text} is not told: {report}");
    }
    phone.report().type_who(HOSTILE[0]).await;
    phone.report().keep_who().await;
    phone.report().see_line(HOSTILE[0]).await;
    assert_eq!(phone.app().intruders().await, Vec::<String>::new());
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

/// Every other field that keeps a text: roads of the day and of the season, a set, the name of the money.
#[tokio::test]
async fn hostile_text_in_the_fields_of_plans_sets_and_prices_stays_text_and_touches_nothing() {
    let site = Site::open();
    let phone = beginnings::a_phone_that_knows_its_machine(&site).await;
    let (plan, season, books) = (phone.plan(), phone.season(), phone.books());
    let go = async |place: &str| phone.go_to(&format!("{}#{place}", site.address())).await;
    for text in HOSTILE {
        go("plan").await;
        plan.add().await;
        let form = plan.form();
        form.fill("Name of the road", text).await;
        form.work("Gravel, top layer").await;
        form.fill("Length in km", "4").await;
        form.keep().await;
        plan.see().await;
        go("season").await;
        season.add(text, "3").await;
        season.see_number(&format!("Visits to {text}"), "1").await;
    }
    season.keep().await;
    phone.notices().see_kept("season plan").await;
    phone.row().open().await;
    phone.row().mount_a_new_set().await;
    for text in HOSTILE {
        phone.row().note(text).await;
    }
    go("books").await;
    books.open_the_prices().await;
    let money = "Name of the money, may stay empty";
    books.fill(money, HOSTILE[0]).await;
    books.fill("One new tooth", HOSTILE[1]).await;
    books.fill("One litre of oil", "2").await;
    books.fill("Litres of oil for one oiling", "0.5").await;
    books.keep_the_prices().await;
    books.see_wrong("That is not a number.").await;
    books.fill("One new tooth", "12").await;
    books.keep_the_prices().await;
    phone.notices().see_kept("prices").await;

    phone.reload().await;
    assert_eq!(phone.app().intruders().await, Vec::<String>::new());
    go("plan").await;
    let named: Vec<String> = (1..)
        .zip(HOSTILE)
        .map(|(at, it)| format!("{at}. {it}"))
        .collect();
    plan.see_order(&named.iter().map(String::as_str).collect::<Vec<_>>())
        .await;
    go("season").await;
    for text in HOSTILE {
        season.see_number(&format!("Visits to {text}"), "1").await;
    }
    phone.row().open().await;
    phone.row().to_sets().await;
    for text in HOSTILE {
        phone.row().see_set(text).await;
    }
    assert_eq!(phone.app().intruders().await, Vec::<String>::new());
    assert_eq!(phone.complaints().await, Vec::<String>::new());
}

#[tokio::test]
async fn an_import_with_names_that_pollute_objects_brings_nothing_of_them() {
    let site = Site::open();
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.first_start().from_a_file().await;
    let lines = [
        r#"{"__proto__":{"storyHit":1},"v":1,"id":"a","count":1,"at_ms":1,"offset_min":0,"device":"cab","event":{"oiled":{"shift":"s"}}}"#,
        r#"{"v":1,"id":"__proto__","count":1,"at_ms":1,"offset_min":0,"device":"constructor","event":{"constructor":{"prototype":{"storyHit":1}}}}"#,
        r#"[3,"__proto__",1,1,0,"constructor","constructor",{"prototype":{"storyHit":1}}]"#,
        r#"{"v":1,"id":"constructor","count":1,"at_ms":1,"offset_min":0,"device":"cab","event":{"noted":{"shift":"prototype","text":"__proto__"}}}"#,
    ]
    .join("\n");
    let file = phone.has_file("polluted.txt", lines.as_bytes());
    phone.records().choose(&file).await;
    phone.records().preview("list").await;
    phone.records().take_in().await;
    // The last is an entry like any other, under a name that happens to be a word of JavaScript.
    phone.records().see_taken_in(1).await;
    phone.reload().await;
    assert_eq!(phone.app().intruders().await, Vec::<String>::new());
}

#[tokio::test]
async fn the_app_cannot_be_shown_in_a_frame_of_another_page() {
    let site = Site::open();
    let folder = std::env::temp_dir().join(format!("evenrow-story-{}-frame", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder");
    let page = format!("<iframe src=\"{}\"></iframe>", site.address());
    fs::write(folder.join("index.html"), page).expect("a page with a frame");
    let other = Site::of(folder.clone());
    let phone = Phone::at("2026-07-01", "06:45").await;
    phone.open_in_vain(&other).await;
    phone.app().sees_complaint("frame-ancestors").await;
    drop(fs::remove_dir_all(folder));
}

#[test]
fn no_page_that_is_shipped_has_a_handler_in_its_markup_or_names_another_site() {
    let dist = required("EVENROW_DIST");
    let page = fs::read_to_string(Path::new(&dist).join("index.html")).expect("the page");
    for word in page.split_whitespace() {
        let handler = word.starts_with("on") && word.contains('=');
        assert!(!handler, "{word} is a handler in the markup");
        assert!(
            !word.contains("http://") && !word.contains("https://"),
            "{word} names another site"
        );
    }
    assert!(!page.contains("'unsafe-inline'") && !page.contains("'unsafe-eval'"));
}

#[tokio::test]
async fn nobody_outside_is_asked_for_anything_in_a_whole_shift() {
    let site = Site::open();
    let mut phone = Phone::whose_requests_are_written_down("2026-07-01", "06:45").await;
    phone.open(&site).await;
    phone.app().in_charge_of_itself().await;
    phone.first_start().answer_as_most_do().await;
    phone.start().start().await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.tabs().book().await;
    phone.book().open_the_last().await;
    phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    phone.tabs().machine().await;
    phone.machine().see().await;
    phone.go_to(&format!("{}#sources", site.address())).await;
    phone.sources().see().await;
    phone.reload().await;
    let asked = phone.requests_by(&site.origin());
    assert!(
        asked.iter().any(|it| it.contains(".wasm")),
        "nothing was written down: {asked:?}"
    );
    for address in &asked {
        assert!(address.starts_with(&site.address()), "{address} was asked");
    }
}

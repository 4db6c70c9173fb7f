//! The list of every number and what it rests on: whole, offline, and never out of step with the build.

use std::fs;
use std::path::PathBuf;

use evenrow_browser_tests::beginnings::a_phone_that_knows_its_machine;
use evenrow_browser_tests::pages::Stated;
use evenrow_browser_tests::process::required;
use evenrow_browser_tests::server::Site;

/// The lines of a kind in the list of the build, without the word for the kind.
fn built(kind: &str) -> Vec<Vec<String>> {
    let file = PathBuf::from(required("EVENROW_DIST")).join("numbers/en.txt");
    let file = fs::read_to_string(file).expect("the list of the build");
    let lines = file.lines().map(|line| line.split('\t'));
    lines
        .filter_map(|mut parts| (parts.next() == Some(kind)).then_some(parts))
        .map(|parts| parts.map(str::to_owned).collect())
        .collect()
}

#[tokio::test]
async fn every_number_of_the_build_stands_there_with_its_basis_without_a_network() {
    let mut site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.app().in_charge_of_itself().await;
    site.die();
    phone.clear_the_network_cache().await;
    phone.reload().await;
    phone.tabs().machine().await;
    let sources = phone.sources();
    sources.open().await;
    phone.app().unfold_everything().await;

    let shown = sources.all().await;
    let (numbers, statements) = (built("number"), built("statement"));
    assert!(!numbers.is_empty() && !statements.is_empty());
    assert_eq!(shown.len(), numbers.len() + statements.len());
    let books = built("source");
    let mut shown = shown.iter();
    for number in &numbers {
        let [_, value, sentence, class, named, note] = &number[..] else {
            panic!("{number:?}");
        };
        let seen = shown.next().expect("a number");
        assert_eq!(seen.head, value.replace("; ", "\n"));
        check(seen, sentence, class, named, note, &books);
    }
    for statement in &statements {
        let [_, sentence, class, named, note] = &statement[..] else {
            panic!("{statement:?}");
        };
        let seen = shown.next().expect("a statement");
        assert_eq!(seen.head, "");
        check(seen, sentence, class, named, note, &books);
    }

    let listed = sources.books().await;
    assert_eq!(listed.len(), books.len());
    for (shown, book) in listed.iter().zip(&books) {
        assert!(shown.head == book[3], "{shown:?} is not {book:?}");
        let memory = shown.basis.contains("from memory");
        assert_eq!(memory, book[1] == "memory", "{shown:?}");
    }
}

/// Holds what is shown against a line of the build.
#[track_caller]
fn check(
    shown: &Stated,
    sentence: &str,
    class: &str,
    named: &str,
    note: &str,
    books: &[Vec<String>],
) {
    assert_eq!(shown.text, sentence);
    let start = match class {
        "common" => "common practice",
        "geometry" => "geometry",
        "house" => "house default",
        "published" => "published: ",
        other => panic!("{sentence}: {other}"),
    };
    let basis = &shown.basis;
    assert!(
        basis.starts_with(start) && basis.ends_with(note),
        "{shown:?}"
    );
    for name in named.split(' ').filter(|name| !name.is_empty()) {
        let book = books.iter().find(|book| book[0] == name).expect(name);
        assert!(basis.contains(&book[3]), "{shown:?} does not name {book:?}");
    }
}

#[tokio::test]
async fn the_sheet_leads_to_the_numbers_and_back_leads_to_the_sheet() {
    let site = Site::open();
    let phone = a_phone_that_knows_its_machine(&site).await;
    phone.tabs().setup().await;
    phone.setup().choose("Gravel, top layer").await;
    let sources = phone.sources();
    sources.open().await;
    sources
        .see_in("The cutting angle", "The usual setting.")
        .await;
    phone.back().await;
    phone.sheet().see("Gravel, top layer").await;

    // A reload stays where one is.
    sources.open().await;
    phone.reload().await;
    sources.see().await;
}

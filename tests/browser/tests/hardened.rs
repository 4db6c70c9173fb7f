//! Faults in a real browser, counted: it is killed at random moments of random shifts, its stores are missing, blocked,
//! full or fail half way, windows write at once, zones change, the server sends errors and halves.
//!
//! In each: what was confirmed is there, a sentence says what is the matter, and no screen is dead. Every run tells a
//! sample; `cargo xtask harden` many. Never here: journals without a browser (`app/journal/tests/hardened.rs`).

use std::collections::BTreeSet;
use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::chance::Chance;
use evenrow_browser_tests::counted::{tell, times};
use evenrow_browser_tests::network::Harm;
use evenrow_browser_tests::oddity::Oddity;
use evenrow_browser_tests::server::Site;

/// How many shift histories one phone lives through, one after the other.
const ON_ONE_PHONE: usize = 5;

/// What an operator may do in a shift without moving the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    Oil,
    Look,
    Note,
    Break,
    Tick,
}

const DEEDS: [Deed; 5] = [Deed::Oil, Deed::Look, Deed::Note, Deed::Break, Deed::Tick];

/// A shift under way, and what the story knows of it.
struct Cab<'a> {
    phone: &'a Phone,
    looks: usize,
    ticked: usize,
    resting: bool,
    last: Option<Deed>,
}

impl Cab<'_> {
    /// Taps, and does not wait for what comes of it.
    async fn tap(&mut self, deed: Deed, chance: &mut Chance) {
        let shift = self.phone.shift();
        match deed {
            Deed::Oil => shift.press().await,
            Deed::Look => shift.all_turning().await,
            Deed::Note => {
                shift.write_note().await;
                self.phone.note().see().await;
                let text = format!("Alder Loop, {}", chance.below(1_000_000));
                self.phone.note().write(&text).await;
                self.phone.note().keep().await;
            }
            Deed::Break if self.resting => shift.press().await,
            Deed::Break => shift.start_break().await,
            Deed::Tick => {
                shift.to_opening().await;
                self.phone.checklist().tick(self.ticked).await;
            }
        }
    }

    /// Waits until the screen has confirmed it.
    async fn see(&mut self, deed: Deed) {
        let shift = self.phone.shift();
        match deed {
            Deed::Oil => self.phone.notices().see_kept("sockets oiled").await,
            Deed::Look => {
                self.looks += 1;
                shift.see_looks_on_the_line(self.looks).await;
            }
            Deed::Note => self.phone.notices().see_kept("note").await,
            Deed::Break => {
                self.resting = !self.resting;
                let title = if self.resting {
                    "On break"
                } else {
                    "Oil the sockets"
                };
                shift.see_title(title).await;
            }
            Deed::Tick => {
                self.ticked += 1;
                let ticked: Vec<usize> = (0..self.ticked).collect();
                self.phone.checklist().see_ticked(&ticked).await;
                self.phone.tabs().shift().await;
                shift.see().await;
            }
        }
        self.last = Some(deed);
    }

    /// What can be done next. The notice of the last deed still stands: the same deed again could not be told from it.
    fn next(&self, chance: &mut Chance) -> Deed {
        loop {
            let deed = DEEDS[chance.below(DEEDS.len())];
            let told_apart = Some(deed) != self.last;
            let can_be_done = match deed {
                Deed::Oil => !self.resting,
                Deed::Tick => self.ticked < 4,
                Deed::Look | Deed::Note | Deed::Break => true,
            };
            if told_apart && can_be_done {
                return deed;
            }
        }
    }
}

async fn kept(phone: &Phone) -> BTreeSet<String> {
    phone.app().records_kept().await.into_iter().collect()
}

/// Ten histories in each run of the stories, two hundred and more through the chore.
#[tokio::test]
async fn a_browser_killed_at_any_moment_of_any_shift_keeps_all_that_it_had_confirmed() {
    let histories = times("EVENROW_HISTORIES", 10);
    let site = Site::open();
    let mut confirmed_in_all = 0;
    let mut half_done = 0;
    for first in (0..histories).step_by(ON_ONE_PHONE) {
        let mut phone = beginnings::a_shift_on_gravel(&site).await;
        let (mut looks, mut ticked, mut resting) = (0, 0, false);
        for number in first..histories.min(first + ON_ONE_PHONE) {
            let mut chance = Chance::new(number);
            let mut cab = Cab {
                phone: &phone,
                looks,
                ticked,
                resting,
                last: None,
            };
            for _ in 0..chance.below(6) {
                let deed = cab.next(&mut chance);
                cab.tap(deed, &mut chance).await;
                cab.see(deed).await;
                confirmed_in_all += 1;
            }
            (looks, ticked, resting) = (cab.looks, cab.ticked, cab.resting);
            let confirmed = kept(&phone).await;
            // Killed between two deeds, or in the middle of one.
            let mut under_way = None;
            if 0 < chance.below(4) {
                let deed = cab.next(&mut chance);
                cab.tap(deed, &mut chance).await;
                under_way = Some(deed);
            }
            phone.lose_power_and_start_again().await;
            phone.open(&site).await;
            let there = kept(&phone).await;
            assert!(
                there.is_superset(&confirmed),
                "history {number} lost {:?}",
                confirmed.difference(&there)
            );
            // What was under way is there as a whole or not at all.
            let more = there.len() - confirmed.len();
            assert!(
                more <= usize::from(under_way.is_some()),
                "history {number}: {more} records came from nowhere"
            );
            if more == 1 {
                half_done += 1;
                match under_way {
                    Some(Deed::Look) => looks += 1,
                    Some(Deed::Tick) => ticked += 1,
                    Some(Deed::Break) => resting = !resting,
                    Some(Deed::Oil | Deed::Note) | None => {}
                }
            }
            phone.tabs().shift().await;
            let shift = phone.shift();
            shift.see_looks_on_the_line(looks).await;
            shift
                .see_title(if resting {
                    "On break"
                } else {
                    "Oil the sockets"
                })
                .await;
        }
    }
    tell(
        "browser killed (SIGKILL) at a random moment of a random shift",
        histories,
        &format!(
            "{confirmed_in_all} confirmed deeds, all there; {half_done} kept that no screen had confirmed yet"
        ),
    );
}

/// A shift can be begun, worked in and looked at on such a phone.
async fn a_shift_goes_on(phone: &Phone, site: &Site) {
    phone.open(site).await;
    phone.first_start().answer_as_most_do().await;
    phone.start().start().await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    phone.shift().all_turning().await;
    phone.shift().see_looks_on_the_line(1).await;
}

/// A shift on a phone that is odd from its first page on goes on, and is there after a reload.
async fn a_shift_on_a_phone_that_is_odd(oddity: Oddity) -> (Phone, Site) {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.is_odd(oddity).await;
    a_shift_goes_on(&phone, &site).await;
    phone.reload().await;
    phone.shift().see_looks_on_the_line(1).await;
    (phone, site)
}

#[tokio::test]
async fn a_phone_without_a_database_that_opens_works_and_says_how_it_keeps_the_records() {
    let oddities = [
        Oddity::DatabaseRefused,
        Oddity::DatabaseBlocked,
        Oddity::DatabaseThrows,
    ];
    for oddity in oddities {
        let (phone, _site) = a_shift_on_a_phone_that_is_odd(oddity).await;
        phone.tabs().book().await;
        phone.book().to_records().await;
        phone
            .records()
            .see_keeping("This browser has no database for the records.")
            .await;
    }
    tell(
        "IndexedDB refused, blocked by another window, or throwing",
        oddities.len(),
        "the records go into localStorage, a sentence says so, and they are there after a reload",
    );
}

#[tokio::test]
async fn a_phone_without_a_usable_local_storage_works_and_keeps_the_records() {
    let oddities = [
        Oddity::NoLocalStorage,
        Oddity::LocalStorageThrows,
        Oddity::LocalStorageFull,
    ];
    for oddity in oddities {
        a_shift_on_a_phone_that_is_odd(oddity).await;
    }
    tell(
        "localStorage missing, throwing or full",
        oddities.len(),
        "nothing is lost but what a form was at",
    );
}

#[tokio::test]
async fn a_write_that_fails_half_way_is_said_to_and_leaves_nothing_and_the_next_one_is_kept() {
    let times = 5;
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.is_odd(Oddity::WritesInHand).await;
    phone.reload().await;
    for time in 0..times {
        let before = kept(&phone).await;
        phone.writes_fail(true).await;
        phone.shift().all_turning().await;
        phone
            .notices()
            .see_trouble("This phone did not keep it")
            .await;
        phone.shift().see_looks_on_the_line(time).await;
        assert_eq!(kept(&phone).await, before);
        phone.writes_fail(false).await;
        phone.notices().try_again().await;
        phone.shift().see_looks_on_the_line(time + 1).await;
        assert!(kept(&phone).await.is_superset(&before));
    }
    phone.reload().await;
    phone.shift().see_looks_on_the_line(times).await;
    tell(
        "IndexedDB failing in the middle of a transaction",
        times,
        "a sentence says it was not kept; none of it is there; the next try is kept",
    );
}

#[tokio::test]
async fn a_phone_that_is_full_says_so_loses_nothing_and_goes_on_once_there_is_space() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.is_odd(Oddity::WritesInHand).await;
    phone.reload().await;
    let before = kept(&phone).await;
    phone.is_full(true).await;
    phone.shift().write_note().await;
    let text = format!("Alder Loop {}", "x".repeat(1500));
    phone.note().write(&text).await;
    phone.note().keep().await;
    phone
        .notices()
        .see_trouble("Free some space, then try again.")
        .await;
    phone.note().see_text(&text).await;
    assert_eq!(kept(&phone).await, before);
    phone.is_full(false).await;
    phone.notices().try_again().await;
    phone.notices().see_kept("note").await;
    assert_eq!(kept(&phone).await.len(), before.len() + 1);
    tell(
        "storage quota reached (as the database reports it)",
        1,
        "a sentence says so, what was typed stays, and it is kept once there is space",
    );
}

#[tokio::test]
async fn three_windows_that_write_at_once_lose_nothing() {
    let rounds = times("EVENROW_HISTORIES", 10).div_ceil(10);
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.open_another_tab(&site).await;
    phone.deafen_this_tab().await;
    phone.open_another_tab(&site).await;
    phone.deafen_this_tab().await;
    let before = kept(&phone).await;
    let mut chance = Chance::new(3);
    let mut looks = 0;
    for _ in 0..rounds {
        // A turn of each, in another order every time, none of them told of the others.
        let mut left = vec![0, 1, 2];
        while !left.is_empty() {
            phone.bring_tab(left.remove(chance.below(left.len()))).await;
            phone.shift().all_turning().await;
            looks += 1;
            phone.app().sees_records(before.len() + looks).await;
        }
    }
    assert!(kept(&phone).await.is_superset(&before));
    for tab in 0..3 {
        phone.bring_tab(tab).await;
        phone.reload().await;
        phone.shift().see_looks_on_the_line(looks).await;
    }
    tell(
        "three windows writing, two of them deaf to the others",
        looks,
        "every window shows all of them after a reload",
    );
}

#[tokio::test]
async fn a_phone_carried_through_zones_in_a_shift_keeps_its_records() {
    let zones = [
        "Asia/Kathmandu",
        "Pacific/Kiritimati",
        "America/Edmonton",
        "UTC",
    ];
    let site = Site::open();
    let phone = beginnings::a_shift_on_gravel(&site).await;
    for (at, zone) in zones.iter().enumerate() {
        phone.travels_to(zone).await;
        phone.reload().await;
        phone.shift().see().await;
        phone.shift().all_turning().await;
        phone.shift().see_looks_on_the_line(at + 1).await;
    }
    tell(
        "zone changed in the middle of a shift, in the browser",
        zones.len(),
        "the shift runs on, and every look is on its line",
    );
}

#[tokio::test]
async fn a_file_that_comes_to_harm_at_install_leaves_an_app_that_works_and_is_whole_once_the_network_is_well()
 {
    for harm in Harm::ALL {
        let site = Site::behind_a_network();
        // One that the first screen does without.
        site.network().harms("drawings.svg", harm);
        let phone = Phone::at("2026-07-01", "06:45").await;
        a_shift_goes_on(&phone, &site).await;
        let before = kept(&phone).await;
        let state = phone.app().what_became_of_the_worker().await;
        // A type does not matter where the bytes are right.
        let wanted = if harm == Harm::WrongType {
            "activated"
        } else {
            "redundant"
        };
        assert_eq!(state, wanted, "{harm:?}");
        let half_kept = phone.app().kept_under().await;
        assert_eq!(
            half_kept.is_empty(),
            harm != Harm::WrongType,
            "{harm:?}: {half_kept:?}"
        );
        site.network().is_well_again();
        phone.reload().await;
        phone.app().in_charge_of_itself().await;
        phone.shift().see_looks_on_the_line(1).await;
        assert_eq!(kept(&phone).await, before, "{harm:?}");
    }
    tell(
        "a file that comes to harm on the way at install: status 503, 404, another page, wrong type, broken off, half",
        Harm::ALL.len(),
        "the shift goes on from the network, nothing half is kept, and the next start installs the whole",
    );
}

#[tokio::test]
async fn a_program_that_comes_to_harm_on_the_way_is_said_to_have_not_started_and_starts_once_it_arrives()
 {
    // Browsers refuse a program of the wrong type, or compile it all the same: a slower way to the same app.
    for harm in Harm::ALL.into_iter().filter(|it| *it != Harm::WrongType) {
        let site = Site::behind_a_network();
        let mut phone = Phone::at("2026-07-01", "06:45").await;
        phone.open(&site).await;
        phone.first_start().answer_as_most_do().await;
        phone.start().see().await;
        let before = kept(&phone).await;
        phone.app().forgets_the_worker().await;
        phone.clear_the_network_cache().await;
        site.network().harms(".wasm", harm);
        phone.open_in_vain(&site).await;
        for _ in 0..12 {
            phone.time_passes(Duration::from_secs(1)).await;
        }
        phone.dead().see("Evenrow did not start").await;
        site.network().is_well_again();
        phone.dead().start_again().await;
        phone.start().see().await;
        assert_eq!(kept(&phone).await, before, "{harm:?}");
    }
    tell(
        "the program itself comes to harm on the way",
        Harm::ALL.len() - 1,
        "a sentence says that it did not start; it starts with all records once the network is well",
    );
}

#[tokio::test]
async fn a_window_of_the_old_version_only_reads_once_a_newer_one_has_written() {
    const NEWER: &str = r#"{"v":99,"id":"of-tomorrow","count":900,"at_ms":1782900000000,"offset_min":180,"device":"cab","event":{"polished":{"with":"moss"}}}"#;
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let before = kept(&phone).await;
    phone.open_another_tab(&site).await;
    phone.app().a_newer_app_writes(NEWER).await;
    let mut wanted = before.clone();
    wanted.insert(NEWER.to_owned());
    let only_reads = "A newer version of this app has written here. This one only reads";
    for reloaded in [false, true] {
        phone.bring_tab(0).await;
        if reloaded {
            phone.reload().await;
        }
        phone.shift().see().await;
        phone.shift().all_turning().await;
        phone.notices().see_warning(only_reads).await;
        assert_eq!(kept(&phone).await, wanted, "reloaded: {reloaded}");
    }
    tell(
        "a newer version writes records of its own while an old window is open",
        2,
        "the old window says that it only reads; nothing is written over, nothing is lost",
    );
}

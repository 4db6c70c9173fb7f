//! How most stories begin: one place each, so that a story can tell what it is about.

use crate::browser::Phone;
use crate::server::Site;

/// A quarter to seven on the first of July: the first start has been answered, and no shift runs.
pub async fn a_phone_that_knows_its_machine(site: &Site) -> Phone {
    let phone = Phone::at("2026-07-01", "06:45").await;
    it_knows_its_machine(&phone, site).await;
    phone
}

/// The same, and the shift from seven to half past three has been started.
pub async fn a_shift_without_work(site: &Site) -> Phone {
    let phone = a_phone_that_knows_its_machine(site).await;
    a_shift_is_started(&phone).await;
    phone
}

/// The same, on gravel of which nothing more is known: three oilings are planned, at 07:00, 09:40 and 12:50.
pub async fn a_shift_on_gravel(site: &Site) -> Phone {
    let phone = a_phone_that_knows_its_machine(site).await;
    a_shift_on_gravel_is_started(&phone).await;
    phone
}

/// On a phone of the story's own: the first start is answered as most do, and no shift runs.
pub async fn it_knows_its_machine(phone: &Phone, site: &Site) {
    phone.open(site).await;
    phone.first_start().answer_as_most_do().await;
    phone.start().see().await;
}

/// Starts the shift that the form shows.
pub async fn a_shift_is_started(phone: &Phone) {
    phone.start().start().await;
    phone.shift().see_title("Choose today’s work").await;
}

/// Starts the shift that the form shows, on gravel of which nothing more is known.
pub async fn a_shift_on_gravel_is_started(phone: &Phone) {
    a_shift_is_started(phone).await;
    phone.shift().press().await;
    phone.setup().choose("Gravel, top layer").await;
    phone.sheet().use_it().await;
    phone
        .shift()
        .see_drops(&["planned", "planned", "planned"])
        .await;
}

/// Six weeks of an invented road district.
const SEASON: &str = include_str!("../../journals/season.jsonl");

/// A phone that has kept six weeks of an invented road district, the last shift on 24 July 2026.
pub async fn a_season_has_been_kept(phone: &Phone, site: &Site) {
    phone.open(site).await;
    phone.first_start().see().await;
    phone.app().has_kept(SEASON).await;
    phone.reload().await;
    phone.tabs().see_machine("Pine Ridge 2").await;
}

//! Units: one switch for everything, and each quantity by itself where the trade mixes them.

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;

#[tokio::test]
async fn tips_are_in_millimetres_while_roads_are_in_miles_and_a_reload_keeps_it() {
    let site = Site::open();
    let phone = Phone::at("2026-07-24", "17:30").await;
    beginnings::a_season_has_been_kept(&phone, &site).await;
    let machine = phone.machine();
    phone.tabs().machine().await;
    machine.units("Feet, °F").await;
    assert!(machine.has_one_system().await);
    machine.units_of("Tips, plates and tape", "25.4 mm").await;
    assert!(!machine.has_one_system().await);
    phone.picture("units").await;

    for _ in 0..2 {
        phone.row().open().await;
        phone.row().plate(3).await;
        phone.row().tooth(5).await;
        phone.languages().see_said(" mm").await;
        phone.tabs().setup().await;
        phone.plan().open().await;
        phone.plan().add().await;
        phone.plan().form().see_field("Length in miles", "").await;
        phone.reload().await;
    }

    phone.tabs().machine().await;
    machine.units("Metres, °C").await;
    machine.units_of("Roads and boards", "5 km, 3.66 m").await;
    assert!(machine.has_one_system().await);
}

//! Reminders that can be trusted: what rings when, what is said when the phone could not ring, and what the app says that
//! this phone can do.

use std::time::Duration;

use evenrow_browser_tests::beginnings::{self, a_shift_on_gravel_is_started};
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::oddity::Oddity;
use evenrow_browser_tests::server::Site;

const NEXT_MINUTE: Duration = Duration::from_mins(1);

/// A phone with these oddities on which a shift on gravel runs; it is a quarter to seven, and oilings are planned at 07:00,
/// 09:40 and 12:50.
async fn an_odd_phone_on_gravel(site: &Site, oddities: &[Oddity]) -> Phone {
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    for &oddity in oddities {
        phone.is_odd(oddity).await;
    }
    phone.open(site).await;
    phone.first_start().answer_as_most_do().await;
    a_shift_on_gravel_is_started(&phone).await;
    phone
}

/// A phone on which a shift on gravel with these times and no break is about to be started.
async fn a_phone_before_a_night(
    day: &str,
    now: &str,
    start: &str,
    end: &str,
    ends: &str,
) -> (Site, Phone) {
    let site = Site::open();
    let phone = Phone::at(day, now).await;
    phone.open(&site).await;
    phone.first_start().answer_as_most_do().await;
    let times = phone.start().times();
    times.break_is("None").await;
    times.start_at(start).await;
    times.end_at(end).await;
    times.ends(ends).await;
    a_shift_on_gravel_is_started(&phone).await;
    (site, phone)
}

/// Goes to the reminders, by way of the shift.
async fn to_the_reminders(phone: &Phone) {
    phone.tabs().shift().await;
    phone.shift().to_reminders().await;
    phone.reminders().see().await;
}

/// The report of the last shift, whose title ends so, and each of these stands in it.
async fn see_in_report(phone: &Phone, date: &str, told: &[&str]) {
    phone.tabs().book().await;
    phone.book().open_the_last().await;
    let report = phone
        .report()
        .read(&format!("Shift report: My grader, {date}"))
        .await;
    for told in told {
        assert!(
            report.contains(told),
            "the report does not say {told:?}:\n{report}"
        );
    }
    phone.tabs().shift().await;
}

/// So many beeps of each kind, in order.
fn waves(kinds: &[(usize, &str)]) -> Vec<String> {
    let kinds = kinds.iter();
    kinds
        .flat_map(|&(count, kind)| vec![kind.to_owned(); count])
        .collect()
}

#[tokio::test]
async fn a_shift_of_twelve_hours_rings_at_each_due_minute_and_the_report_is_right() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "05:50").await;
    phone.open(&site).await;
    phone.first_start().answer_as_most_do().await;
    let times = phone.start().times();
    times.start_at("06:00").await;
    times.end_at("18:00").await;
    a_shift_on_gravel_is_started(&phone).await;
    let (shift, alarm) = (phone.shift(), phone.alarm());

    for (before, due) in [("05:59", "06:00"), ("09:49", "09:50")] {
        phone.clock_moves_to(before).await;
        shift.card_once("ahead", "0:01").await;
        alarm.see_none().await;
        phone.clock_moves_to(due).await;
        alarm.see(&format!("Now due at {due}")).await;
        alarm.done().await;
    }
    phone.clock_moves_to("11:00").await;
    shift.start_break().await;
    shift.see_title("On break").await;
    phone.clock_moves_to("11:30").await;
    shift.press().await;
    shift.see_title("Oil the sockets").await;
    phone.clock_moves_to("14:09").await;
    shift.card_once("ahead", "0:01").await;
    alarm.see_none().await;
    phone.clock_moves_to("14:10").await;
    alarm.see("Now due at 14:10").await;
    alarm.done().await;
    shift.see_drops(&["done", "done", "done"]).await;
    phone.clock_moves_to("18:00").await;
    alarm.see_none().await;
    shift.to_closing().await;
    phone.checklist().end_the_shift().await;
    let report = phone
        .report()
        .read("Shift report: My grader, 2026-07-01")
        .await;
    for told in [
        "Planned: 06:00 to 18:00",
        "Ended: 18:00",
        "Working time: 11 h 30 min",
        "3 fell due: 3 on time, 0 late, 0 missed",
        "Due 06:00: oiled 06:00",
        "Due 09:50: oiled 09:50",
        "Due 14:10: oiled 14:10",
        "Nothing put off, nothing wrong with the clock, and the app ran whenever something fell due",
    ] {
        assert!(
            report.contains(told),
            "the report does not say {told:?}:\n{report}"
        );
    }
}

#[tokio::test]
async fn after_three_hours_asleep_it_rings_for_what_is_open_and_says_what_it_slept_through() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let (alarm, notices) = (phone.alarm(), phone.notices());
    phone.clock_moves_to("07:00").await;
    alarm.done().await;
    phone.clock_moves_to("09:00").await;
    phone.sleeps_until("12:05").await;
    alarm.see("Late 2:25 due at 09:40").await;
    notices
        .see_trouble("The app did not run from 09:00 to 12:05 and could not ring. Fell due meanwhile and not oiled yet: 09:40 (2 h 25 min late).")
        .await;
    phone.picture("alarm-slept").await;
    alarm.done().await;
    notices
        .see_trouble("The app did not run from 09:00 to 12:05 and could not ring. All that fell due meanwhile is oiled.")
        .await;
    notices.understood().await;
    phone
        .shift()
        .see_drops(&["done", "done-late", "planned"])
        .await;
    see_in_report(
        &phone,
        "2026-07-01",
        &[
            "From 09:00 to 12:05 the app did not run and could not ring",
            "Due 09:40: oiled 12:05, 2 h 25 min LATE",
        ],
    )
    .await;
}

#[tokio::test]
async fn what_was_missed_asleep_is_told_as_missed_and_a_sleep_in_which_nothing_fell_due_is_not_told()
 {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let (alarm, notices) = (phone.alarm(), phone.notices());
    phone.clock_moves_to("07:00").await;
    alarm.done().await;
    phone.sleeps_until("09:30").await;
    phone.shift().card_once("ahead", "0:10").await;
    phone.sleeps_until("13:05").await;
    alarm.see("Late 0:15 due at 12:50").await;
    notices
        .see_trouble("The app did not run from 09:30 to 13:05 and could not ring. Fell due meanwhile and not oiled yet: 09:40 (missed), 12:50 (15 min late).")
        .await;
    notices.understood().await;
    alarm.done().await;
    see_in_report(
        &phone,
        "2026-07-01",
        &[
            "3 fell due: 1 on time, 1 late, 1 missed",
            "From 09:30 to 13:05 the app did not run and could not ring",
        ],
    )
    .await;
}

#[tokio::test]
async fn a_clock_set_back_by_an_hour_is_asked_about_and_the_shift_moves_with_it() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let notices = phone.notices();
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.clock_moves_to("09:30").await;
    phone.shift().card_once("ahead", "0:10").await;
    phone.clock_is_set_to("08:30").await;
    notices
        .see_question("This phone had its clock set back by 1 h. Which time is right?")
        .await;
    phone.picture("clock-question").await;
    notices.new_time_is_right().await;
    assert_eq!(
        phone.shift().card_once("ahead", "0:10").await.small,
        "at 08:40"
    );
    see_in_report(
        &phone,
        "2026-07-01",
        &[
            "Planned: 06:00 to 14:30",
            "Due 06:00: oiled 06:00",
            "08:30: clock set back by 1 h; times moved with the clock",
        ],
    )
    .await;
    phone.clock_moves_to("08:40").await;
    phone.alarm().see("Now due at 08:40").await;
}

#[tokio::test]
async fn a_clock_set_back_by_mistake_leaves_the_shift_as_it_is() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let notices = phone.notices();
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.clock_moves_to("09:30").await;
    phone.clock_is_set_to("08:30").await;
    notices.see_question("clock set back by 1 h").await;
    // The question outlives a reload: only the operator can answer it.
    phone.reload().await;
    notices.see_question("clock set back by 1 h").await;
    notices.old_time_is_right().await;
    assert_eq!(
        phone.shift().card_once("ahead", "1:10").await.small,
        "at 09:40"
    );
    see_in_report(
        &phone,
        "2026-07-01",
        &[
            "Planned: 07:00 to 15:30",
            "08:30: clock set back by 1 h; times left as they are",
        ],
    )
    .await;
}

#[tokio::test]
async fn a_clock_moved_under_two_windows_is_asked_about_once() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.open_another_tab(&site).await;
    phone.shift().card_once("ahead", "0:15").await;
    phone.clock_is_set_to("06:15").await;
    phone
        .notices()
        .see_question("clock set back by 30 min")
        .await;
    phone.notices().new_time_is_right().await;
    assert_eq!(
        phone.shift().card_once("ahead", "0:15").await.small,
        "at 06:30"
    );
    phone.bring_tab(0).await;
    phone.notices().see_no_question().await;
    assert_eq!(
        phone.shift().card_once("ahead", "0:15").await.small,
        "at 06:30"
    );
}

#[tokio::test]
async fn a_shift_over_midnight_rings_on_both_days() {
    let (_site, mut phone) =
        a_phone_before_a_night("2026-07-01", "21:45", "22:00", "06:00", "next day").await;
    let (shift, alarm) = (phone.shift(), phone.alarm());
    phone.clock_moves_to("22:00").await;
    alarm.see("Now due at 22:00").await;
    alarm.done().await;
    assert_eq!(shift.card_once("ahead", "2:40").await.small, "at 00:40");
    phone.clock_moves_to_day("2026-07-02", "00:39").await;
    shift.card_once("ahead", "0:01").await;
    phone.clock_moves_to("00:40").await;
    alarm.see("Now due at 00:40").await;
    alarm.done().await;
    phone.clock_moves_to("03:35").await;
    alarm.see("Late 0:15 due at 03:20").await;
    alarm.done().await;
    see_in_report(
        &phone,
        "2026-07-01",
        &[
            "Planned: 22:00 to 06:00",
            "Due 22:00: oiled 22:00",
            "Due 00:40: oiled 00:40",
            "Due 03:20: oiled 03:35, 15 min LATE",
        ],
    )
    .await;
}

#[tokio::test]
async fn in_the_night_in_which_summer_time_begins_an_interval_stays_as_long_as_it_is() {
    let (_site, mut phone) =
        a_phone_before_a_night("2026-03-29", "00:05", "00:15", "08:00", "same day").await;
    let (shift, alarm) = (phone.shift(), phone.alarm());
    let told = shift.line_told().await;
    assert!(told.ends_with("shift from 00:15 to 08:00"), "{told}");
    phone.clock_moves_to("00:15").await;
    alarm.done().await;
    // Six hours and three quarters of work, not seven and three quarters: a third is 2 h 15 min.
    assert_eq!(shift.card_once("ahead", "2:15").await.small, "at 02:30");
    phone.clock_moves_to("02:30").await;
    alarm.done().await;
    assert_eq!(shift.card_once("ahead", "2:15").await.small, "at 05:45");
    phone.time_passes(Duration::from_mins(134)).await;
    phone.tabs().see_clock("05:44").await;
    shift.card_once("ahead", "0:01").await;
    phone.time_passes(NEXT_MINUTE).await;
    alarm.see("Now due at 05:45").await;
    alarm.done().await;
    phone.picture("shift-summer-time").await;
    see_in_report(
        &phone,
        "2026-03-29",
        &[
            "Planned: 00:15 to 08:00",
            "The time of day went forward by 1 h during this shift",
            "Due 02:30: oiled 02:30",
            "Due 05:45: oiled 05:45",
            "3 fell due: 3 on time",
            "nothing wrong with the clock",
        ],
    )
    .await;
}

#[tokio::test]
async fn in_the_night_in_which_summer_time_ends_an_interval_stays_as_long_as_it_is() {
    let (_site, mut phone) =
        a_phone_before_a_night("2026-10-25", "00:05", "00:15", "08:00", "same day").await;
    let (shift, alarm) = (phone.shift(), phone.alarm());
    phone.clock_moves_to("00:15").await;
    alarm.done().await;
    // Eight hours and three quarters of work: a third is 2 h 55 min.
    assert_eq!(shift.card_once("ahead", "2:55").await.small, "at 03:10");
    phone.time_passes(Duration::from_mins(175)).await;
    alarm.see("Now due at 03:10").await;
    alarm.done().await;
    assert_eq!(shift.card_once("ahead", "2:55").await.small, "at 05:05");
    // Ten past three comes a second time, and nothing rings.
    phone.time_passes(Duration::from_hours(1)).await;
    phone.tabs().see_clock("03:10").await;
    assert_eq!(shift.card_once("ahead", "1:55").await.small, "at 05:05");
    phone.time_passes(Duration::from_mins(115)).await;
    alarm.see("Now due at 05:05").await;
    alarm.done().await;
    let told = shift.line_told().await;
    assert!(told.ends_with("shift from 00:15 to 08:00"), "{told}");
    see_in_report(
        &phone,
        "2026-10-25",
        &[
            "Planned: 00:15 to 08:00",
            "The time of day went back by 1 h during this shift",
            "Due 03:10: oiled 03:10",
            "Due 05:05: oiled 05:05",
            "3 fell due: 3 on time",
        ],
    )
    .await;
}

#[tokio::test]
async fn out_of_sight_a_notification_shows_the_plan_then_what_is_due_and_goes_when_seen() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.app().in_charge_of_itself().await;
    phone.see_notifications(&[]).await;
    phone.is_out_of_sight(true).await;
    phone.see_notifications(&["Next oiling at 07:00"]).await;
    phone.clock_moves_to("07:00").await;
    phone
        .see_notifications(&["Oil the sockets: due at 07:00"])
        .await;
    phone.is_out_of_sight(false).await;
    phone.see_notifications(&[]).await;
    phone.alarm().done().await;
    to_the_reminders(&phone).await;
    phone
        .reminders()
        .see_notifications("While the page is hidden, a notification shows what is due next.")
        .await;
}

#[tokio::test]
async fn without_leave_to_notify_nothing_is_shown_nothing_breaks_and_the_app_says_so() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.open_without_notifications(&site).await;
    phone.first_start().answer_as_most_do().await;
    a_shift_on_gravel_is_started(&phone).await;
    phone.app().in_charge_of_itself().await;
    phone.is_out_of_sight(true).await;
    phone.clock_moves_to("07:00").await;
    phone.is_out_of_sight(false).await;
    phone.alarm().done().await;
    phone.see_notifications(&[]).await;
    to_the_reminders(&phone).await;
    phone
        .reminders()
        .see_notifications("Notifications are switched off for this page.")
        .await;
}

#[tokio::test]
async fn nobody_is_asked_about_notifications_before_a_shift_is_started_and_then_once() {
    let site = Site::open();
    let mut phone = Phone::at("2026-07-01", "06:45").await;
    phone.is_odd(Oddity::NotAskedYet).await;
    beginnings::it_knows_its_machine(&phone, &site).await;
    assert_eq!(phone.times_asked().await, 0);
    a_shift_on_gravel_is_started(&phone).await;
    assert_eq!(phone.times_asked().await, 1);
    to_the_reminders(&phone).await;
    phone
        .reminders()
        .see_notifications("Notifications are switched off for this page.")
        .await;
    assert_eq!(phone.times_asked().await, 1);
}

#[tokio::test]
async fn a_browser_without_notifications_says_so() {
    let site = Site::open();
    let phone = an_odd_phone_on_gravel(&site, &[Oddity::NoNotifications]).await;
    to_the_reminders(&phone).await;
    phone
        .reminders()
        .see_notifications("This browser shows no notifications for this page.")
        .await;
}

#[tokio::test]
async fn the_alarm_sounds_gently_then_strongly_until_it_is_answered() {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    phone.shift().see_good("It rings with sound.").await;
    phone.clock_moves_to("06:59").await;
    assert_eq!(phone.beeps().await, waves(&[]));
    let mut heard = vec![(3, "triangle")];
    phone.clock_moves_to("07:00").await;
    phone.alarm().see("Now").await;
    phone.alarm().see_sound().await;
    assert_eq!(phone.beeps().await, waves(&heard));
    // Gentle again after ten seconds and after twenty, strong from half a minute on.
    for (seconds, kind) in [
        (9, None),
        (1, Some((3, "triangle"))),
        (10, Some((3, "triangle"))),
        (10, Some((8, "square"))),
        (4, None),
        (1, Some((8, "square"))),
    ] {
        phone.time_passes(Duration::from_secs(seconds)).await;
        heard.extend(kind);
        assert_eq!(phone.beeps().await, waves(&heard));
    }
    // After two minutes it hardly pauses.
    phone.clock_moves_to("07:02").await;
    let before = phone.beeps().await.len();
    phone.time_passes(Duration::from_secs(2)).await;
    phone.time_passes(Duration::from_secs(2)).await;
    assert_eq!(phone.beeps().await.len(), before + 16);
    phone.alarm().done().await;
    let at_the_answer = phone.beeps().await.len();
    phone.time_passes(Duration::from_mins(5)).await;
    assert_eq!(phone.beeps().await.len(), at_the_answer);
}

#[tokio::test]
async fn a_phone_that_gives_no_sound_says_so_on_the_shift_and_on_the_alarm() {
    let site = Site::open();
    let no_sound = "This browser has no sound. Watch the screen.";
    let locked = "No sound yet: tap anywhere on this page once.";
    for (oddity, sentence) in [(Oddity::NoSound, no_sound), (Oddity::LockedSound, locked)] {
        let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears, oddity]).await;
        phone.shift().see_bad(sentence).await;
        phone.clock_moves_to("07:00").await;
        phone.alarm().see("Now").await;
        phone.alarm().see_no_sound(sentence).await;
        phone.time_passes(NEXT_MINUTE).await;
        assert_eq!(phone.beeps().await, waves(&[]));
        phone.alarm().done().await;
    }
}

#[tokio::test]
async fn the_sound_can_be_tried_in_two_taps_from_the_shift() {
    let site = Site::open();
    let phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    phone.shift().to_reminders().await;
    phone.reminders().try_gentle().await;
    assert_eq!(phone.beeps().await, waves(&[(3, "triangle")]));
    phone.reminders().try_strong().await;
    assert_eq!(
        phone.beeps().await,
        waves(&[(3, "triangle"), (8, "square")])
    );
    phone.reminders().see_good("It rings with sound.").await;
}

#[tokio::test]
async fn a_screen_that_may_go_dark_is_said_to_and_the_lock_is_taken_again() {
    let site = Site::open();
    let dark = "The screen may go dark.";
    let phone = an_odd_phone_on_gravel(&site, &[Oddity::NoWakeLock]).await;
    phone
        .shift()
        .see_bad("This browser cannot keep the screen awake. Set the phone to keep it on.")
        .await;
    drop(phone);
    let phone = an_odd_phone_on_gravel(&site, &[Oddity::RefusedWakeLock]).await;
    phone.shift().see_bad(dark).await;
    drop(phone);

    let phone = an_odd_phone_on_gravel(&site, &[Oddity::WakeLockInHand]).await;
    let awake = "The screen stays awake during the shift.";
    phone.shift().see_good(awake).await;
    // Lost while it is seen: said at once, and taken again by the next tap.
    phone.wake_lock_is_lost().await;
    phone.shift().see_bad(dark).await;
    phone.shift().to_reminders().await;
    phone.reminders().see_good(awake).await;
    // Lost out of sight, as all phones do: taken again when it is seen.
    phone.is_out_of_sight(true).await;
    phone.wake_lock_is_lost().await;
    phone.reminders().see_bad(dark).await;
    phone.is_out_of_sight(false).await;
    phone.reminders().see_good(awake).await;
}

#[tokio::test]
async fn two_windows_ring_once_and_an_answer_in_one_ends_it_in_the_other() {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    phone.open_another_tab(&site).await;
    phone.shift().card_once("ahead", "0:15").await;
    // Sound has to be unlocked in each.
    phone.shift().to_reminders().await;
    phone.reminders().see_good("It rings with sound.").await;
    phone.clock_moves_to("07:00").await;
    let mut heard = 0;
    for tab in [0, 1] {
        phone.bring_tab(tab).await;
        phone.alarm().see("Now due at 07:00").await;
        heard += phone.beeps().await.len();
    }
    assert_eq!(heard, 3, "one gentle pattern in one of the two windows");
    phone.bring_tab(0).await;
    phone.alarm().done().await;
    phone.bring_tab(1).await;
    phone.alarm().see_none().await;
    phone.tabs().shift().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
}

#[tokio::test]
async fn killed_while_it_rings_it_rings_on_and_sounds_again_at_the_first_tap() {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().see("Now due at 07:00").await;
    phone.lose_power_and_start_again().await;
    phone.open(&site).await;
    phone.alarm().see("Now due at 07:00").await;
    phone
        .alarm()
        .see_no_sound("No sound yet: tap anywhere on this page once.")
        .await;
    phone.alarm().tap_beside_the_buttons().await;
    phone.alarm().see_sound().await;
    phone.time_passes(Duration::from_secs(10)).await;
    assert_eq!(phone.beeps().await, waves(&[(3, "triangle")]));
    phone.alarm().done().await;
    phone
        .shift()
        .see_drops(&["done", "planned", "planned"])
        .await;
}

#[tokio::test]
async fn put_off_it_is_quiet_for_five_minutes_even_over_a_restart_and_then_rings_again() {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    let alarm = phone.alarm();
    phone.clock_moves_to("07:08").await;
    alarm.see("Now due at 07:00").await;
    alarm.again_in(5).await;
    phone
        .notices()
        .see_kept("oiling put off by 5 minutes")
        .await;
    let heard = phone.beeps().await.len();
    phone.clock_moves_to("07:12").await;
    alarm.see_none().await;
    assert_eq!(phone.beeps().await.len(), heard);
    phone.lose_power_and_start_again().await;
    phone.open(&site).await;
    phone.shift().card_once("late", "0:12").await;
    phone.alarm().see_none().await;
    phone.clock_moves_to("07:13").await;
    phone.alarm().see("Late 0:13 due at 07:00").await;
    phone.alarm().done().await;
    see_in_report(
        &phone,
        "2026-07-01",
        &[
            "Due 07:00: oiled 07:13, 13 min LATE",
            "07:08: oiling put off by 5 minutes",
        ],
    )
    .await;
}

#[tokio::test]
async fn a_stuck_tooth_brings_the_next_oiling_forward_and_the_operator_can_refuse_that() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let shift = phone.shift();
    shift.some_are_not().await;
    phone.look().more("Stuck", 1).await;
    phone.look().keep().await;
    shift.see_oilings_come_closer().await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    // Two thirds of 160 minutes are 106 minutes and 40 seconds.
    assert_eq!(shift.card_once("ahead", "1:47").await.small, "at 08:46");
    phone.picture("shift-closer").await;
    phone.clock_moves_to("08:00").await;
    shift.keep_the_usual_interval().await;
    shift.see_usual_oilings().await;
    // An hour has used up nine sixteenths of the shorter interval; seven sixteenths of 160 minutes are left.
    assert_eq!(shift.card_once("ahead", "1:10").await.small, "at 09:10");
    see_in_report(&phone, "2026-07-01", &["08:00: usual interval kept"]).await;
}

#[tokio::test]
async fn the_calendar_is_handed_the_next_oiling_or_the_whole_shift_in_utc_and_a_higher_sequence_each_time()
 {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::ShareSheet]).await;
    to_the_reminders(&phone).await;
    let reminders = phone.reminders();
    phone.picture("reminders-before-calendar").await;
    reminders.large_times().await;
    reminders.see_large_times("07:00, 09:40, 12:50").await;

    reminders.next_to_calendar().await;
    reminders
        .see_calendar("Handed to the calendar: 07:00. The plan is still the same.")
        .await;
    let files = phone.handed_over(1).await;
    assert_eq!(files[0].name, "evenrow-oiling.ics");
    assert_eq!(files[0].kind, "text/calendar");
    assert_eq!(starts(&files[0].text), ["20260701T040000Z"]);
    assert_eq!(all(&files[0].text, "SEQUENCE:"), ["0"]);
    assert_eq!(all(&files[0].text, "DTSTAMP:"), ["20260701T034500Z"]);

    reminders.shift_to_calendar().await;
    reminders
        .see_calendar("Handed to the calendar: 07:00, 09:40, 12:50. The plan is still the same.")
        .await;
    let files = phone.handed_over(2).await;
    let text = &files[1].text;
    assert_eq!(
        starts(text),
        ["20260701T040000Z", "20260701T064000Z", "20260701T095000Z"]
    );
    assert_eq!(all(text, "SEQUENCE:"), ["1", "1", "1"]);
    assert_eq!(all(text, "UID:")[0], all(&files[0].text, "UID:")[0]);
    assert_eq!(all(text, "BEGIN:VALARM").len(), 3);

    // A work that wants less oil: what was handed over is stale, and kept over a reload.
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.tabs().setup().await;
    phone.setup().choose("Packed snow or ice, hard road").await;
    phone.sheet().use_it().await;
    phone.shift().see_drops(&["done", "planned"]).await;
    phone.reload().await;
    phone
        .shift()
        .see_bad("The plan has changed since it was handed to the calendar. It is now 11:00:")
        .await;
    to_the_reminders(&phone).await;
    reminders
        .see_calendar("The plan has changed since it was handed to the calendar. It is now 11:00:")
        .await;
    phone.picture("reminders-stale").await;
    reminders.shift_to_calendar().await;
    reminders
        .see_calendar("Handed to the calendar: 11:00. The plan is still the same.")
        .await;
    let files = phone.handed_over(1).await;
    let text = &files[0].text;
    // The second moves, the third is taken back.
    assert_eq!(starts(text), ["20260701T080000Z", "20260701T095000Z"]);
    assert_eq!(all(text, "STATUS:"), ["CONFIRMED", "CANCELLED"]);
    assert_eq!(all(text, "SEQUENCE:"), ["2", "2"]);
}

#[tokio::test]
async fn without_a_share_sheet_the_calendar_file_is_downloaded() {
    let site = Site::open();
    let phone = an_odd_phone_on_gravel(&site, &[Oddity::Downloads]).await;
    to_the_reminders(&phone).await;
    phone.reminders().shift_to_calendar().await;
    let files = phone.handed_over(1).await;
    assert_eq!(files[0].name, "evenrow-oiling.ics");
    assert_eq!(starts(&files[0].text).len(), 3);
    phone.reminders().see_handed("Handed over.").await;
}

#[tokio::test]
async fn a_calendar_file_that_the_phone_does_not_take_is_not_said_to_be_handed_over() {
    let site = Site::open();
    let phone = an_odd_phone_on_gravel(&site, &[Oddity::ShareSheetThatFails]).await;
    to_the_reminders(&phone).await;
    phone.reminders().shift_to_calendar().await;
    phone
        .reminders()
        .see_handed("The phone did not take the file. Set the times by hand.")
        .await;
    phone.reload().await;
    phone.reminders().see_nothing_handed_over().await;
    phone.reminders().large_times().await;
    phone
        .reminders()
        .see_large_times("07:00, 09:40, 12:50")
        .await;
}

/// The values of a property, event by event.
fn all<'a>(calendar: &'a str, property: &str) -> Vec<&'a str> {
    let lines = calendar.split("\r\n");
    lines
        .filter_map(|line| line.strip_prefix(property))
        .collect()
}

fn starts(calendar: &str) -> Vec<&str> {
    all(calendar, "DTSTART:")
}

#[tokio::test]
async fn a_phone_that_rang_while_locked_and_was_heard_is_said_to_and_a_reload_keeps_that() {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    let reminders = phone.reminders();
    phone
        .shift()
        .see_bad("nobody has checked whether this phone rings")
        .await;
    to_the_reminders(&phone).await;
    reminders.begin_check().await;
    reminders.see_check_waits("It should ring in 60 s.").await;
    phone.is_out_of_sight(true).await;
    phone.time_passes(NEXT_MINUTE).await;
    assert_eq!(phone.beeps().await, waves(&[(8, "square")]));
    phone.is_out_of_sight(false).await;
    // The question outlives a reload.
    phone.reload().await;
    reminders.see_asked().await;
    phone.picture("reminders-asked").await;
    reminders.heard().await;
    let rang = "Locked, this phone rang on time when it was checked on 2026-07-01.";
    reminders.see_good(rang).await;
    phone.reload().await;
    reminders.see_good(rang).await;
    phone.tabs().shift().await;
    phone.shift().see_good(rang).await;
}

#[tokio::test]
async fn a_phone_that_rang_late_or_was_not_heard_is_said_to() {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    let reminders = phone.reminders();
    to_the_reminders(&phone).await;
    reminders.begin_check().await;
    phone.is_out_of_sight(true).await;
    phone.time_passes(Duration::from_secs(30)).await;
    // It was let run again only after the minute was over.
    phone.time_passes(Duration::from_mins(1)).await;
    phone.is_out_of_sight(false).await;
    reminders.see_asked().await;
    reminders.heard().await;
    let late = "Locked, this phone rang 30 s late when it was checked on 2026-07-01.";
    reminders.see_bad(late).await;
    phone.tabs().shift().await;
    phone.shift().see_bad(late).await;

    to_the_reminders(&phone).await;
    reminders.begin_check().await;
    phone.is_out_of_sight(true).await;
    phone.time_passes(NEXT_MINUTE).await;
    phone.is_out_of_sight(false).await;
    reminders.see_asked().await;
    reminders.not_heard().await;
    let silent = "Locked or behind another app this phone stays silent.";
    reminders.see_bad(silent).await;
    phone.tabs().shift().await;
    phone.shift().see_bad(silent).await;
}

#[tokio::test]
async fn a_phone_that_slept_through_the_check_is_said_to_stay_silent_and_one_not_locked_proves_nothing()
 {
    let site = Site::open();
    let mut phone = an_odd_phone_on_gravel(&site, &[Oddity::Ears]).await;
    let reminders = phone.reminders();
    to_the_reminders(&phone).await;
    reminders.begin_check().await;
    phone.time_passes(Duration::from_secs(20)).await;
    reminders.see_check_waits("It should ring in 40 s.").await;
    phone.time_passes(Duration::from_secs(45)).await;
    reminders.see_was_not_locked().await;
    assert_eq!(phone.beeps().await, waves(&[]));
    reminders
        .see_bad("nobody has checked whether this phone rings")
        .await;

    reminders.begin_check().await;
    reminders.stop_check().await;
    reminders
        .see_bad("nobody has checked whether this phone rings")
        .await;

    reminders.begin_check().await;
    phone.sleeps_for(Duration::from_mins(3)).await;
    reminders.silent_understood().await;
    let silent = "Locked or behind another app this phone stays silent.";
    reminders.see_bad(silent).await;
    phone.reload().await;
    phone.tabs().shift().await;
    phone.shift().see_bad(silent).await;
}

#[tokio::test]
async fn a_screen_reader_says_each_threshold_once_and_not_each_second() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let voice = phone.voice();
    // What was kept can no longer be undone, so nothing but the oiling speaks.
    phone.time_passes(Duration::from_secs(10)).await;
    phone.notices().see_nothing_to_undo().await;
    voice.listen().await;
    let mut said = Vec::new();
    for _ in 0..28 {
        phone.time_passes(NEXT_MINUTE).await;
        said.extend(voice.said().await);
    }
    assert_eq!(
        said,
        [
            "Oiling due soon, at 07:00",
            "Oiling due now, 07:00",
            "Oiling late, due at 07:00"
        ]
    );
    for _ in 0..20 {
        phone.time_passes(Duration::from_secs(1)).await;
    }
    assert_eq!(voice.said().await, Vec::<String>::new());
}

#[tokio::test]
async fn what_was_slept_through_is_read_out_once_and_not_each_minute() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    phone.clock_moves_to("07:00").await;
    phone.alarm().done().await;
    phone.clock_moves_to("09:00").await;
    phone.sleeps_until("12:05").await;
    phone.notices().see_trouble("09:40 (2 h 25 min late)").await;
    let voice = phone.voice();
    voice.listen().await;
    for _ in 0..5 {
        phone.time_passes(NEXT_MINUTE).await;
    }
    assert_eq!(voice.said().await, Vec::<String>::new());
}

#[tokio::test]
async fn the_alarm_takes_the_focus_keeps_it_from_what_lies_behind_and_gives_it_back() {
    let site = Site::open();
    let mut phone = beginnings::a_shift_on_gravel(&site).await;
    let (shift, alarm) = (phone.shift(), phone.alarm());
    shift.focus_all_turning().await;
    phone.clock_moves_to("07:00").await;
    alarm.see("Now due at 07:00").await;
    alarm.see_focus().await;
    let reached = alarm.reached_by_tab(8).await;
    assert!(reached.iter().all(|(inside, _)| *inside), "{reached:?}");
    for name in ["Again in 5 minutes", "Again in 15 minutes", "Oiled now"] {
        assert!(
            reached.iter().any(|(_, words)| words == name),
            "{name} is not among {reached:?}"
        );
    }
    alarm.done().await;
    shift.see_focus_on_all_turning().await;
}

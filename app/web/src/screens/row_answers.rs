//! What the row tells: what to change, how long the set lasts, how even it is and why not, how the teeth turn, what to carry
//! and to order.
//!
//! Never here: what the rules decide; here their answers become sentences and pictures.

use core::time::Duration;

use evenrow_journal::event::ToothState;
use evenrow_journal::row::SetOfTeeth;
use evenrow_journal::row_facts::ShiftTurning;
use evenrow_rules::oiling::{breaks, working_time};
use evenrow_rules::quantity::{Confidence, Hours, Instant, Length};
use evenrow_rules::spares::{PRIOR, SAME_WEAR, carry, match_spares, reorder};
use evenrow_rules::wear::{
    Agreement, DaySide, Evenness, HoursPerDay, Life, Outlook, Pattern, Refusal, Side, Tooth,
    evenness, outlook,
};
use leptos::prelude::*;

use super::row::Mounted;
use super::usual::{ShiftForm, step_names};
use crate::device::{clock, preferences};
use crate::parts::life_bar::{LifeBar, LifeBarView};
use crate::parts::row_profile::{RowProfile, RowProfileView};
use crate::parts::stepper::Stepper;
use crate::parts::turning_chart::{TurningBar, TurningChart, TurningChartView};
use crate::shell::App;
use crate::words::times;

/// How sure the answers are to be. House default.
const SURE: f64 = 0.95;

/// For so long spares are carried where neither a shift runs nor a usual one is known. House default.
const SHIFT: Duration = Duration::from_hours(8);

/// In so many days ordered teeth come, where nobody has said. House default.
pub(super) const DELIVERY_DAYS: u16 = 14;

/// The longest delivery that can be set, in days. House default.
pub(super) const LONGEST_DELIVERY_DAYS: u16 = 180;

/// So many shifts are shown of how the teeth turned. House default: as many as a narrow screen takes.
const SHIFTS_SHOWN: usize = 6;

/// In so many shifts somebody has to have looked before anything is said about turning. House default.
const FEWEST_SHIFTS: usize = 3;

/// The answers.
#[component]
pub fn RowAnswers(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
) -> impl IntoView {
    let words = app.words;
    let change = move || {
        row.set
            .with(|set| set.as_ref().map(|set| change_of(app, row, set)))
    };
    // The sentence and the picture of one answer are made of one reckoning.
    let life = Memo::new(move |_| {
        row.set
            .with(|set| Some(life_of(app, set.as_ref()?, row.now.get())))
            .unwrap_or_default()
    });
    let bar = Memo::new(move |_| life.with(|(bar, _)| bar.clone()));
    let even = Memo::new(move |_| {
        row.set
            .with(|set| Some(even_of(app, row, set.as_ref()?)))
            .unwrap_or_default()
    });
    let profile = Memo::new(move |_| even.with(|(profile, _)| profile.clone()));
    let half_worn = Memo::new(move |_| {
        row.set.with(|set| {
            let set = set.as_ref()?;
            let usual = row.tips.with(|tips| set.usual_tip(tips))?;
            Some(usual <= set.tips.middle())
        })
    });
    view! {
        <section class="row-answers">
            <h2>{words.change_title()}</h2>
            <p class="answer-change">{change}</p>
            {move || (half_worn.get() == Some(true)).then(|| view! {
                <p class="answer-half">{words.half_worn_now()}</p>
                <a class="main-action to-sets" href="#sets">{words.sets_title()}</a>
            })}
            <h2>{words.life_title()}</h2>
            {move || bar.with(LifeBarView::is_known).then(|| view! { <LifeBar shown=bar/> })}
            <p class="answer-life">{move || life.with(|(_, told)| told.clone())}</p>
            <h2>{words.even_title()}</h2>
            {move || profile.with(|it| !it.bars.is_empty()).then(|| view! { <RowProfile shown=profile/> })}
            <p class="answer-even">{move || even.with(|(_, told)| told.clone())}</p>
            <Turning app row/>
            <Ordering app row/>
        </section>
    }
}

pub(super) fn sure() -> Option<Confidence> {
    Confidence::share(SURE).ok()
}

/// How long a set lasts, as a picture where that is known, and as a sentence.
fn life_of(app: App, set: &SetOfTeeth, now: Instant) -> (LifeBarView, String) {
    let words = app.words;
    let readings = app.state().with(|state| state.readings(set));
    let Some(found) = sure().map(|sure| outlook(&readings, set.tips, sure)) else {
        return Default::default();
    };
    match found {
        Ok(outlook) => {
            let half = life_told(app, set, &outlook.half, now, Which::Half);
            let done = life_told(app, set, &outlook.done, now, Which::Done);
            let doubt = match outlook.agreement {
                Agreement::Agrees => String::new(),
                Agreement::Contradicts => words.life_doubtful(),
            };
            let told = [half, done, doubt].join(" ").trim().to_owned();
            (bar_of(app, set, &outlook, now), told)
        }
        Err(refused) => (LifeBarView::default(), no_rate(app, &refused)),
    }
}

/// Why the readings tell no rate of wear, and what would be enough.
pub(super) fn no_rate(app: App, refused: &Refusal) -> String {
    let words = app.words;
    let length = |length: Length| words.exact(length, app.units.get());
    match *refused {
        Refusal::TooFewTimes { got, wanted } => {
            words.life_too_few(&got.to_string(), &wanted.to_string())
        }
        Refusal::LongerThanNew { most, .. } => words.life_longer_than_new(&length(most)),
        Refusal::SameTimeDiffers { most, .. } => words.life_same_time_differs(&length(most)),
        Refusal::Grew { .. } => words.life_grew(),
        Refusal::NotWearing { .. } => words.life_not_wearing(),
        Refusal::LostInScatter { span_wanted, .. } => {
            words.life_lost_in_scatter(&format!("{:.0}", span_wanted.in_hours()))
        }
    }
}

#[derive(Clone, Copy)]
enum Which {
    Half,
    Done,
}

/// "Half worn around 2026-08-12, at the earliest 2026-08-07, at the latest 2026-08-19", or in hours where nobody knows how many a day.
fn life_told(app: App, set: &SetOfTeeth, life: &Life, now: Instant, which: Which) -> String {
    let words = app.words;
    let (worn, a_day) = app.state().with(|state| {
        let a_day = set
            .machine()
            .and_then(|machine| state.time_a_day(machine, now));
        (state.blade_time(set, now), a_day)
    });
    let per_day = a_day.and_then(|time| HoursPerDay::new(Hours::of(time).in_hours()).ok());
    let Some(per_day) = per_day else {
        let at = format!("{:.0}", life.at.in_hours());
        return match which {
            Which::Half => words.half_in_hours(&at),
            Which::Done => words.done_in_hours(&at),
        };
    };
    let days = life.days(Hours::of(worn), per_day, 0);
    let date = |days: i64| {
        let by = Duration::from_hours(24 * days.unsigned_abs().min(40_000));
        let at = if days < 0 {
            now.minus(by)
        } else {
            now.plus(by)
        };
        times::date(at, clock::offset_minutes(at))
    };
    let side = |side: DaySide| match side {
        DaySide::On(day) => date(day),
        DaySide::NotYetBounded => words.not_yet_known(),
    };
    let (from, to) = (side(days.earliest), side(days.latest));
    match which {
        Which::Half => words.half_around(&date(days.day), &from, &to),
        Which::Done => words.done_around(&date(days.day), &from, &to),
    }
}

fn bar_of(app: App, set: &SetOfTeeth, outlook: &Outlook, now: Instant) -> LifeBarView {
    let words = app.words;
    let worn = app.state().with(|state| state.blade_time(set, now));
    let worn = Hours::of(worn).in_hours();
    let end = |side: Side| match side {
        Side::At(at) => Some(at.in_hours()),
        Side::NotYetBounded => None,
    };
    let done = outlook.done.at.in_hours();
    let scale = end(outlook.done.latest)
        .unwrap_or(done * 1.2)
        .min(done * 2.0)
        .max(worn);
    let share = |hours: f64| (hours / scale * 100.0).clamp(0.0, 100.0);
    let band = |life: &Life| {
        let from = end(life.earliest).map_or(0.0, share);
        (from, end(life.latest).map_or(100.0, share) - from)
    };
    LifeBarView {
        worn: share(worn),
        half: share(outlook.half.at.in_hours()),
        half_band: band(&outlook.half),
        done: share(done),
        done_band: band(&outlook.done),
        told: words.life_bar_told(&format!("{worn:.0}"), &format!("{done:.0}")),
        half_word: words.half_word(),
        done_word: words.done_word(),
    }
}

/// How even a set is, as a picture where tips were measured, and as a sentence.
fn even_of(app: App, row: Mounted, set: &SetOfTeeth) -> (RowProfileView, String) {
    let (words, units) = (app.words, app.units.get());
    let measured = set.row();
    let Ok(found) = evenness(&measured) else {
        return (RowProfileView::default(), words.even_nothing());
    };
    let profile = profile_of(app, row, set, &measured, &found);
    let name = |position: u16| row.plates.with(|plates| plates.short(words, position));
    let spread = words.even_spread(
        &found.measured.to_string(),
        &words.exact(found.mean, units),
        &words.exact(found.range(), units),
    );
    let odd: Vec<String> = found.outliers.iter().map(|it| name(it.pos)).collect();
    let outliers = if odd.is_empty() {
        String::new()
    } else {
        words.even_outliers(&odd.join(", "))
    };
    let pattern = match found.pattern {
        Pattern::TooLittle { wanted, .. } => words.pattern_too_little(&wanted.to_string()),
        Pattern::NoPattern(_) => words.pattern_none(),
        Pattern::OneEnd { end, .. } => words.pattern_one_end(&words.end(end)),
        Pattern::BothEnds(_) => words.pattern_both_ends(),
        Pattern::Middle(_) => words.pattern_middle(),
        Pattern::StuckRun { first, last, .. } => words.pattern_stuck_run(&name(first), &name(last)),
        Pattern::EveryNth { nth, first, .. } => {
            words.pattern_every_nth(&nth.to_string(), &name(first))
        }
    };
    let said = [spread, outliers, pattern];
    let said: Vec<String> = said.into_iter().filter(|it| !it.is_empty()).collect();
    (profile, said.join(" "))
}

fn profile_of(
    app: App,
    row: Mounted,
    set: &SetOfTeeth,
    measured: &[Tooth],
    found: &Evenness,
) -> RowProfileView {
    let words = app.words;
    let teeth = f64::from(row.plates.with(super::row_plates::Plates::teeth)).max(1.0);
    let new = set.tips.when_new().in_millimetres();
    let share = |tip: Length| (tip.in_millimetres() / new).clamp(0.0, 1.0);
    let is_odd = |position: u16| found.outliers.iter().any(|it| it.pos == position);
    // Measured teeth stand as far apart as they do on the machine; a bar fills half of the way to the next.
    let positions: Vec<u16> = measured.iter().map(|tooth| tooth.pos).collect();
    let apart = positions
        .windows(2)
        .map(|two| two[1].saturating_sub(two[0]));
    let apart = f64::from(apart.min().unwrap_or(1).clamp(1, 8));
    let width = 0.6 * apart / teeth;
    let bars = measured.iter().map(|tooth| {
        let middle = (f64::from(tooth.pos) - 0.5) / teeth;
        let at = (middle - width / 2.0).clamp(0.0, 1.0 - width);
        (at, share(tooth.tip), is_odd(tooth.pos))
    });
    let median = words.tip(found.median, app.units.get());
    RowProfileView {
        bars: bars.collect(),
        width,
        median: share(found.median),
        median_word: words.median_word(&median),
        told: words.profile_told(&found.measured.to_string(), &median),
    }
}

fn change_of(app: App, row: Mounted, set: &SetOfTeeth) -> String {
    let words = app.words;
    let bad = row.tips.with(|tips| set.bad(tips));
    let spares = app.state().with(|state| state.teeth.spares_one_by_one());
    let stuck: Vec<u16> = set
        .teeth
        .iter()
        .filter(|(_, tooth)| tooth.state == ToothState::Stuck)
        .map(|(&position, _)| position)
        .collect();
    let list = |positions: Vec<u16>| row.plates.with(|plates| plates.list(words, positions));
    let free = if stuck.is_empty() {
        String::new()
    } else {
        words.change_free(&list(stuck))
    };
    if bad.is_empty() {
        return if free.is_empty() {
            words.change_nothing()
        } else {
            free
        };
    }
    let Ok(matched) = match_spares(&bad, &spares, SAME_WEAR) else {
        return free;
    };
    let fits = list(matched.pairs.iter().map(|pair| pair.pos).collect());
    let without = list(matched.unmatched);
    let change = match (fits.is_empty(), without.is_empty()) {
        (false, true) => words.change_all(&fits),
        (true, _) => words.change_none_fits(&without),
        (false, false) => words.change_some(&fits, &without),
    };
    if free.is_empty() {
        change
    } else {
        [change, free].join(" ")
    }
}

/// How the teeth turned in the last shifts, beside how their oiling was kept.
#[component]
fn Turning(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
) -> impl IntoView {
    let words = app.words;
    let shifts = Memo::new(move |_| {
        let machine = app.machine.get().map(|it| it.id);
        let turning = |id| {
            app.state()
                .with(|state| state.turning(&id, SHIFTS_SHOWN, row.now.get()))
        };
        machine.map(turning).unwrap_or_default()
    });
    let chart = Memo::new(move |_| shifts.with(|shifts| chart_of(app, shifts)));
    let told = move || shifts.with(|shifts| turning_told(app, shifts));
    let enough = move || shifts.with(|shifts| FEWEST_SHIFTS <= shifts.len());
    view! {
        <h2>{words.turning_title()}</h2>
        {move || enough().then(|| view! { <TurningChart shown=chart/> })}
        <p class="answer-turning">{told}</p>
    }
}

/// The share of the oilings that fell due and were done on time; all of them where none fell due.
fn on_time<'a>(shifts: impl Iterator<Item = &'a ShiftTurning>) -> f64 {
    let (kept, due) = shifts.fold((0, 0), |(kept, due), shift| {
        (kept + shift.oilings.on_time, due + shift.oilings.planned)
    });
    if due == 0 {
        1.0
    } else {
        kept as f64 / due as f64
    }
}

fn chart_of(app: App, shifts: &[ShiftTurning]) -> TurningChartView {
    let words = app.words;
    let most = shifts.iter().map(|it| it.held).max().unwrap_or(0).max(1);
    let day = |shift: &ShiftTurning| {
        let date = times::date(shift.start, clock::offset_minutes(shift.start));
        // The month and the day; the year is the same for all that are shown, or nearly so.
        // ISO 8601 begins with it, the others end with it.
        date.split_once('-').map_or_else(
            || {
                date.trim_end_matches(|it: char| it.is_ascii_digit())
                    .trim_end_matches('/')
                    .to_owned()
            },
            |(_, day)| day.to_owned(),
        )
    };
    let told: Vec<String> = shifts
        .iter()
        .map(|shift| {
            words.turning_of_shift(
                &day(shift),
                &shift.held.to_string(),
                &shift.oilings.on_time.to_string(),
                &shift.oilings.planned.to_string(),
            )
        })
        .collect();
    TurningChartView {
        shifts: shifts
            .iter()
            .map(|shift| TurningBar {
                held: shift.held.to_string(),
                height: f64::from(shift.held) / f64::from(most),
                on_time: on_time([shift].into_iter()),
                day: day(shift),
            })
            .collect(),
        above: words.turning_above(),
        below: words.turning_below(),
        told: told.join(". "),
    }
}

fn turning_told(app: App, shifts: &[ShiftTurning]) -> String {
    let words = app.words;
    if shifts.len() < FEWEST_SHIFTS {
        return words.turning_too_few(&shifts.len().to_string(), &FEWEST_SHIFTS.to_string());
    }
    let per_cent = |share: f64| format!("{:.0}", share * 100.0);
    let (held, free): (Vec<&ShiftTurning>, Vec<&ShiftTurning>) =
        shifts.iter().partition(|it| 0 < it.held);
    let count = shifts.len().to_string();
    match (held.is_empty(), free.is_empty()) {
        (true, _) => words.turning_all_free(&count, &per_cent(on_time(free.into_iter()))),
        (false, true) => words.turning_all_held(&count, &per_cent(on_time(held.into_iter()))),
        (false, false) => words.turning_both(
            &held.len().to_string(),
            &count,
            &per_cent(on_time(held.into_iter())),
            &per_cent(on_time(free.into_iter())),
        ),
    }
}

/// What to carry today, and when to order, given how long a delivery takes.
#[component]
fn Ordering(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
) -> impl IntoView {
    let words = app.words;
    let days = RwSignal::new(preferences::delivery_days().unwrap_or(DELIVERY_DAYS));
    let step = move |more: bool| {
        let longer = |days: u16| {
            let days = if more {
                days + 1
            } else {
                days.saturating_sub(1)
            };
            days.clamp(1, LONGEST_DELIVERY_DAYS)
        };
        days.update(|it| *it = longer(*it));
        preferences::set_delivery_days(days.get_untracked());
    };
    let told = move || ordering_told(app, row.now.get(), days.get()).unwrap_or_default();
    let label = words.delivery();
    view! {
        <h2>{words.carry_title()}</h2>
        <p class="answer-spares">{told}</p>
        <Stepper
            names=step_names(words, &label)
            label
            value=Signal::derive(move || words.days(&days.get().to_string()))
            on_step=Callback::new(step)
        />
    }
}

fn ordering_told(app: App, now: Instant, days: u16) -> Option<String> {
    let words = app.words;
    let (machine, sure) = app.machine.get().zip(sure())?;
    let (record, on_hand, ahead, a_day) = app.state().with(|state| {
        let shift = state.running().map(|shift| shift.plan.clone());
        let usual = || Some(ShiftForm::of(state.usual.as_ref()?).plan(now));
        let ahead = shift.or_else(usual).map_or(SHIFT, |plan| {
            working_time(plan.span(), &breaks(&plan.breaks, &[]))
        });
        // A machine without a record is taken to work as long every day as it is to work today.
        let a_day = state.time_a_day(&machine.id, now).unwrap_or(ahead);
        let record = state.breakage(&machine.id, now);
        (record, state.teeth.spares_in_all(), ahead, a_day)
    });
    let (ahead, lead) = (
        Hours::of(ahead),
        Hours::of(a_day.saturating_mul(days.into())),
    );
    let carried = carry(PRIOR, record, ahead, sure);
    let order = reorder(PRIOR, record, on_hand, lead, sure);
    let hours = |hours: Hours| format!("{:.0}", hours.in_hours());
    let carry = words.carry_today(
        &carried.teeth.to_string(),
        &hours(ahead),
        &record.broken.to_string(),
        &hours(record.hours),
    );
    let (have, point) = (on_hand.to_string(), order.point.to_string());
    let order = if order.order_now {
        words.order_now(&have, &point, &hours(lead))
    } else {
        words.order_later(&have, &point)
    };
    Some([carry, order].join(" "))
}

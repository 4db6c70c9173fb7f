//! What the row tells: how long the set lasts, how even it is, what is wrong with the wear, what to change, carry and order.

use core::time::Duration;

use evenrow_journal::row::SetOfTeeth;
use evenrow_rules::quantity::{Confidence, Hours, Instant, Length};
use evenrow_rules::spares::{PRIOR, SAME_WEAR, carry, match_spares, reorder};
use evenrow_rules::wear::{
    Agreement, DaySide, HoursPerDay, Life, Outlook, Pattern, Refusal, Side, evenness, outlook,
};
use leptos::prelude::*;

use crate::device::clock;
use crate::parts::life_bar::{LifeBar, LifeBarView};
use crate::shell::App;
use crate::words::times;

/// How sure the answers are to be. House default.
const SURE: f64 = 0.95;

/// For so many hours spares are carried: a shift. House default.
const SHIFT_HOURS: f64 = 8.0;

/// A delivery of teeth is taken to last so many hours of work. House default.
const LEAD_HOURS: f64 = 80.0;

/// The answers.
#[component]
pub fn RowAnswers(
    /// What every screen is handed.
    app: App,
    /// The set.
    set: Memo<Option<SetOfTeeth>>,
) -> impl IntoView {
    let words = app.words;
    // Minute by minute is often enough for what takes weeks.
    let minute = Memo::new(move |_| {
        let ms = app.now.get().unix_ms();
        Instant::from_unix_ms(ms - ms.rem_euclid(60_000))
    });
    let life = move || set.with(|set| set.as_ref().map(|set| life_of(app, set, minute.get())));
    let even = move || set.with(|set| set.as_ref().map(|set| even_of(app, set)));
    let change = move || set.with(|set| set.as_ref().map(|set| change_of(app, set)));
    let spares = move || spares_of(app, minute.get());
    let bar = Memo::new(move |_| {
        set.with(|set| bar_of(app, set.as_ref()?, minute.get()))
            .unwrap_or_default()
    });
    view! {
        <section class="row-answers">
            <h2>{words.change_title()}</h2>
            <p class="answer-change">{change}</p>
            <h2>{words.life_title()}</h2>
            {move || bar.with(LifeBarView::is_known).then(|| view! { <LifeBar shown=bar/> })}
            <p class="answer-life">{life}</p>
            <h2>{words.even_title()}</h2>
            <p class="answer-even">{even}</p>
            <h2>{words.carry_title()}</h2>
            <p class="answer-spares">{spares}</p>
        </section>
    }
}

fn sure() -> Option<Confidence> {
    Confidence::share(SURE).ok()
}

fn hours_of(time: Duration) -> Hours {
    Hours::new(time.as_secs_f64() / 3600.0).unwrap_or(Hours::ZERO)
}

fn told(app: App, set: &SetOfTeeth) -> Option<Result<Outlook, Refusal>> {
    let readings = app.state().with(|state| state.readings(set));
    Some(outlook(&readings, set.tips, sure()?))
}

fn life_of(app: App, set: &SetOfTeeth, now: Instant) -> String {
    let words = app.words;
    let Some(found) = told(app, set) else {
        return String::new();
    };
    let units = app.units.get();
    let length = |length: Length| words.exact(length, units);
    match found {
        Ok(outlook) => {
            let half = life_told(app, set, &outlook.half, now, Which::Half);
            let done = life_told(app, set, &outlook.done, now, Which::Done);
            let doubt = match outlook.agreement {
                Agreement::Agrees => String::new(),
                Agreement::Contradicts => words.life_doubtful(),
            };
            [half, done, doubt].join(" ").trim().to_owned()
        }
        Err(Refusal::TooFewTimes { got, wanted }) => {
            words.life_too_few(&got.to_string(), &wanted.to_string())
        }
        Err(Refusal::LongerThanNew { most, .. }) => words.life_longer_than_new(&length(most)),
        Err(Refusal::SameTimeDiffers { most, .. }) => words.life_same_time_differs(&length(most)),
        Err(Refusal::Grew { .. }) => words.life_grew(),
        Err(Refusal::NotWearing { .. }) => words.life_not_wearing(),
        Err(Refusal::LostInScatter { span_wanted, .. }) => {
            words.life_lost_in_scatter(&format!("{:.0}", span_wanted.in_hours()))
        }
    }
}

#[derive(Clone, Copy)]
enum Which {
    Half,
    Done,
}

/// "Half worn around 2026-08-12, between 2026-08-07 and 2026-08-19", or in hours where nobody knows how many a day.
fn life_told(app: App, set: &SetOfTeeth, life: &Life, now: Instant, which: Which) -> String {
    let words = app.words;
    let (worn, a_day) = app.state().with(|state| {
        let a_day = set
            .machine()
            .and_then(|machine| state.time_a_day(machine, now));
        (state.blade_time(set, now), a_day)
    });
    let per_day = a_day.and_then(|time| HoursPerDay::new(time.as_secs_f64() / 3600.0).ok());
    let Some(per_day) = per_day else {
        let at = format!("{:.0}", life.at.in_hours());
        return match which {
            Which::Half => words.half_in_hours(&at),
            Which::Done => words.done_in_hours(&at),
        };
    };
    let days = life.days(hours_of(worn), per_day, 0);
    let date = |days: i64| {
        let by = Duration::from_hours(24 * days.unsigned_abs().min(40_000));
        let at = if days < 0 {
            now.minus(by)
        } else {
            now.plus(by)
        };
        times::date(at, clock::offset_minutes(at))
    };
    let side = |side: DaySide, open: fn(&crate::words::Words) -> String| match side {
        DaySide::On(day) => date(day),
        DaySide::NotYetBounded => open(words),
    };
    let from = side(days.earliest, crate::words::Words::not_yet_known);
    let to = side(days.latest, crate::words::Words::not_yet_known);
    match which {
        Which::Half => words.half_around(&date(days.day), &from, &to),
        Which::Done => words.done_around(&date(days.day), &from, &to),
    }
}

fn bar_of(app: App, set: &SetOfTeeth, now: Instant) -> Option<LifeBarView> {
    let outlook = told(app, set)?.ok()?;
    let words = app.words;
    let worn = app.state().with(|state| state.blade_time(set, now));
    let worn = worn.as_secs_f64() / 3600.0;
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
    Some(LifeBarView {
        worn: share(worn),
        half: share(outlook.half.at.in_hours()),
        half_band: band(&outlook.half),
        done: share(done),
        done_band: band(&outlook.done),
        told: words.life_bar_told(&format!("{worn:.0}"), &format!("{done:.0}")),
        half_word: words.half_word(),
        done_word: words.done_word(),
    })
}

fn even_of(app: App, set: &SetOfTeeth) -> String {
    let words = app.words;
    let units = app.units.get();
    let measured = set.measured.iter().map(|it| it.tips.len()).sum::<usize>();
    if measured == 0 {
        return words.even_nothing();
    }
    let Ok(found) = evenness(&set.row()) else {
        return words.even_nothing();
    };
    let spread = words.even_spread(
        &words.exact(found.mean, units),
        &words.exact(found.range(), units),
    );
    let odd: Vec<String> = found
        .outliers
        .iter()
        .take(8)
        .map(|it| it.pos.to_string())
        .collect();
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
        Pattern::StuckRun { first, last, .. } => {
            words.pattern_stuck_run(&first.to_string(), &last.to_string())
        }
        Pattern::EveryNth { nth, first, .. } => {
            words.pattern_every_nth(&nth.to_string(), &first.to_string())
        }
    };
    [spread, outliers, pattern]
        .join(" ")
        .replace("  ", " ")
        .trim()
        .to_owned()
}

fn change_of(app: App, set: &SetOfTeeth) -> String {
    let words = app.words;
    let bad = set.bad();
    if bad.is_empty() {
        return words.change_nothing();
    }
    let spares = app.state().with(|state| state.teeth.spares_one_by_one());
    let Ok(matched) = match_spares(&bad, &spares, SAME_WEAR) else {
        return String::new();
    };
    let list = |positions: &mut dyn Iterator<Item = u16>| {
        positions
            .map(|it| it.to_string())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let fits = list(&mut matched.pairs.iter().map(|pair| pair.pos));
    let without = list(&mut matched.unmatched.iter().copied());
    match (fits.is_empty(), without.is_empty()) {
        (false, true) => words.change_all(&fits),
        (true, _) => words.change_none_fits(&without),
        (false, false) => words.change_some(&fits, &without),
    }
}

fn spares_of(app: App, now: Instant) -> String {
    let words = app.words;
    let Some((machine, sure)) = app.machine.get().zip(sure()) else {
        return String::new();
    };
    let (record, on_hand) = app.state().with(|state| {
        (
            state.breakage(&machine.id, now),
            state.teeth.spares_in_all(),
        )
    });
    let (ahead, lead) = (
        hours_of(Duration::from_secs_f64(SHIFT_HOURS * 3600.0)),
        hours_of(Duration::from_secs_f64(LEAD_HOURS * 3600.0)),
    );
    let carried = carry(PRIOR, record, ahead, sure);
    let order = reorder(PRIOR, record, on_hand, lead, sure);
    let carry = words.carry_today(
        &carried.teeth.to_string(),
        &record.broken.to_string(),
        &format!("{:.0}", record.hours.in_hours()),
    );
    let lead = format!("{LEAD_HOURS:.0}");
    let order = if order.order_now {
        words.order_now(&on_hand.to_string(), &order.point.to_string(), &lead)
    } else {
        words.order_later(&on_hand.to_string(), &order.point.to_string())
    };
    [carry, order].join(" ")
}

//! The crossfall of the road by the phone's sense of gravity, compared with what is published for the work.

use evenrow_rules::crossfall::{
    Crossfall as Measured, Fall, MOST_FALL, NoCrossfall, crossfall, wanted,
};
use evenrow_rules::source::Basis;
use evenrow_rules::tilt::Gravity;
use evenrow_rules::work::Work;
use leptos::prelude::*;

use super::angle::no_angle;
use super::laying::{Measurement, PlaceWords};
use super::target::{Target, work_to_compare};
use crate::parts::phone_laid::Laid;
use crate::parts::sheet_line::{Reasons, Why};
use crate::shell::App;
use crate::words::Words;

/// The screen.
#[component]
pub fn Crossfall(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let work = work_to_compare(app, None);
    let found = RwSignal::new(None::<Measured>);
    let refused = RwSignal::new(None::<String>);
    let first = StoredValue::new(Vec::new());
    let target = Signal::derive(move || work.get().map_or_else(String::new, |it| told(words, it)));
    let on_begin = Callback::new(move |()| {
        refused.set(None);
        found.set(None);
    });
    let on_read = Callback::new(move |(place, readings): (usize, Vec<Gravity>)| {
        if place == 0 {
            first.set_value(readings);
            return true;
        }
        match first.with_value(|first| crossfall(first, &readings)) {
            Ok(measured) => found.set(Some(measured)),
            Err(why) => refused.set(Some(no_crossfall(words, why))),
        }
        found.with_untracked(Option::is_some)
    });
    let result = move || {
        let measured = found.get()?;
        let (fall, uncertain) = (
            words.per_cent(measured.fall),
            words.per_cent(measured.uncertainty),
        );
        Some(view! {
            <p class="measured">{words.measured_crossfall(&fall, &uncertain)}</p>
            {compared(words, work.get(), measured.fall)}
        })
    };
    let why = move || {
        let why = work.get().map(|work| why(words, work)).unwrap_or_default();
        view! { <Reasons why/> }
    };
    let across = PlaceWords {
        name: words.lay_across(),
        how: words.lay_across_how(),
    };
    let turned = PlaceWords {
        name: words.lay_turned(),
        how: words.lay_turned_how(),
    };
    let laid = |turned| Signal::derive(move || Laid::Across { turned });
    let places = vec![(across, laid(false)), (turned, laid(true))];
    view! {
        <h1 tabindex="-1">{words.crossfall_title()}</h1>
        <p>{words.crossfall_lead()}</p>
        <p class="caution">{words.beware_traffic_protection()}</p>
        <Target app work target/>
        <div class="crossfall-why">{why}</div>
        <Measurement app places on_read on_begin refused>{result}</Measurement>
    }
}

/// What is published for a work.
fn told(words: &Words, work: Work) -> String {
    let Some(wanted) = wanted(work) else {
        return words.crossfall_none();
    };
    let (low, high) = (
        words.per_cent(wanted.range.0),
        words.per_cent(wanted.range.1),
    );
    match wanted.about {
        Some((about, _)) => words.crossfall_about(&words.per_cent(about), &low, &high),
        None => words.crossfall_range(&low, &high),
    }
}

/// Who published it.
fn why(words: &Words, work: Work) -> Vec<Why> {
    let line = |text: String, source| Why {
        head: String::new(),
        text,
        basis: words.basis(Basis::Published(source)),
    };
    let Some(wanted) = wanted(work) else {
        return Vec::new();
    };
    let crown = wanted
        .about
        .map(|(_, source)| line(words.why_crown(), source));
    let range = line(words.why_crossfall_range(), wanted.range_from);
    crown.into_iter().chain([range]).collect()
}

fn compared(words: &Words, work: Option<Work>, fall: f64) -> Option<impl IntoView + use<>> {
    let (stands, text) = match wanted(work?)?.compare(fall) {
        Fall::InRange => ("in-range", words.crossfall_in_range()),
        Fall::TooSteep(by) => ("over", words.crossfall_too_steep(&words.per_cent(by))),
        Fall::TooFlat(by) => ("under", words.crossfall_too_flat(&words.per_cent(by))),
    };
    Some(view! { <p class="compared" data-stands=stands>{text}</p> })
}

fn no_crossfall(words: &Words, why: NoCrossfall) -> String {
    match why {
        NoCrossfall::Readings(why) => no_angle(words, why),
        NoCrossfall::NotTurnedRound { by } => words.no_crossfall_not_turned(&words.fine_angle(by)),
        NoCrossfall::NoRoad { fall } => {
            words.no_crossfall_no_road(&words.per_cent(fall), &words.per_cent(MOST_FALL))
        }
    }
}

//! The phone laid somewhere and read once it lies still, one place after the other.
//!
//! Each place wants a tap of its own. A phone that went on by itself would take a hand that pauses on the way for the
//! plate; a large button, tapped where the phone already lies, cannot be hit too early, gloves or not. The sound at the end
//! of each place calls for the next one: hands are low and eyes elsewhere. Never here: what the readings mean.

use evenrow_rules::tilt::{Gravity, READINGS_WANTED, Rest};
use leptos::prelude::*;

use crate::device::gravity::{self, Numb};
use crate::device::sound::{self, Strength};
use crate::parts::phone_laid::{Laid, PhoneLaid};
use crate::parts::steadiness::{Steadiness, SteadinessView};
use crate::shell::App;

/// A place in words.
#[derive(Clone)]
pub struct PlaceWords {
    /// Where: "On the road".
    pub name: String,
    /// How the phone has to lie there.
    pub how: String,
}

/// How far it has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    /// Not begun.
    Before,
    /// The sensor has been asked for.
    Asked,
    /// The phone is to be laid in this place.
    ToLay(usize),
    /// It lies there and is read.
    Reading(usize),
    /// Every place has been read, or the readings were refused.
    Over,
    /// There is nothing to read.
    Numb(Numb),
}

/// A measurement from its pictures to its end: how the phone is laid in each place, the laying itself, and below it why
/// nothing was found, or what was.
#[component]
pub fn Measurement(
    /// What every screen is handed.
    app: App,
    /// The places, each with how the phone is drawn there.
    places: Vec<(PlaceWords, Signal<Laid>)>,
    /// The readings of the place with this number; whether they will do.
    on_read: Callback<(usize, Vec<Gravity>), bool>,
    /// The operator begins, and what was read before no longer counts.
    on_begin: Callback<()>,
    /// Why nothing was found.
    refused: RwSignal<Option<String>>,
    /// What was found.
    children: Children,
) -> impl IntoView {
    let picture = |(place, laid): &(PlaceWords, Signal<Laid>)| {
        let (name, laid) = (place.name.clone(), *laid);
        view! {
            <figure>
                {move || view! { <PhoneLaid laid=laid.get()/> }}
                <figcaption>{name}</figcaption>
            </figure>
        }
    };
    let pictures = places.iter().map(picture).collect_view();
    let places = places.into_iter().map(|(place, _)| place).collect();
    view! {
        <div class="drawings">{pictures}</div>
        <p class="small">{app.words.picture_arrow()}</p>
        <Laying app places on_read on_begin/>
        <p class="wrong angle-refused" role="alert">{refused}</p>
        <div class="angle-result" role="status">{children()}</div>
    }
}

/// The places in their order.
#[component]
pub fn Laying(
    /// What every screen is handed.
    app: App,
    /// The places.
    places: Vec<PlaceWords>,
    /// The readings of the place with this number; whether they will do.
    on_read: Callback<(usize, Vec<Gravity>), bool>,
    /// The operator begins, and what was read before no longer counts.
    on_begin: Callback<()>,
) -> impl IntoView {
    let words = app.words;
    let at = RwSignal::new(At::Before);
    let rest = RwSignal::new(Rest::default());
    let all = places.len();
    let places = StoredValue::new(places);
    // Dropped with the screen, and nothing is felt any more.
    let feeling = StoredValue::new_local(None);

    let read = move |place: usize| {
        rest.set(Rest::default());
        at.set(At::Reading(place));
    };
    let felt = move |reading: Gravity| match at.get_untracked() {
        // Where there is one place only, the tap that began said that it lies there.
        At::Asked if all == 1 => read(0),
        At::Asked => at.set(At::ToLay(0)),
        At::Reading(place) => {
            rest.update(|rest| rest.take(reading));
            if !rest.with_untracked(Rest::is_full) {
                return;
            }
            let readings = rest.with_untracked(|rest| rest.readings().to_vec());
            let will_do = on_read.run((place, readings));
            let strength = if will_do {
                Strength::Done
            } else {
                Strength::Again
            };
            sound::play(strength);
            sound::vibrate(strength);
            if will_do && place + 1 < all {
                at.set(At::ToLay(place + 1));
            } else {
                at.set(At::Over);
                feeling.set_value(None);
            }
        }
        At::Before | At::ToLay(_) | At::Over | At::Numb(_) => {}
    };
    let begin = move |_| {
        sound::unlock();
        on_begin.run(());
        at.set(At::Asked);
        let felt = gravity::feel(felt, move |numb| at.set(At::Numb(numb)));
        feeling.set_value(Some(felt));
    };
    let shown = Signal::derive(move || {
        rest.with(|rest| {
            let (got, steady) = (rest.readings().len(), rest.is_steady());
            SteadinessView {
                steady,
                word: if steady {
                    words.hand_steady()
                } else {
                    words.hand_not_steady()
                },
                share: 100.0 * got as f64 / READINGS_WANTED as f64,
                told: words.readings_of(&got.to_string(), &READINGS_WANTED.to_string()),
            }
        })
    });
    let restless = Memo::new(move |_| rest.with(Rest::is_restless));
    let head = move |place: usize| {
        let it = places.with_value(|places| places.get(place).cloned());
        it.map(|it| {
            let step = (1 < all).then(|| words.step_of(&(place + 1).to_string(), &all.to_string()));
            view! {
                <h2 class="laying-place">{it.name}</h2>
                <p class="small laying-step">{step}</p>
                <p class="laying-how">{it.how}</p>
            }
        })
    };
    let begin_button = move |name: String| {
        view! { <button type="button" class="main-action laying-begin" on:click=begin>{name}</button> }
    };
    let body = move || {
        match at.get() {
        At::Before => begin_button(if all == 1 { words.measure_here() } else { words.measure_begin() }).into_any(),
        At::Asked => view! { <p class="laying-waits" role="status">{words.sensor_waited_for()}</p> }.into_any(),
        At::ToLay(place) => view! {
            {head(place)}
            <button type="button" class="main-action laying-here" on:click=move |_| read(place)>
                {words.measure_here()}
            </button>
        }
        .into_any(),
        At::Reading(place) => view! {
            {head(place)}
            <Steadiness shown/>
            {move || restless.get().then(|| view! { <p class="caution laying-restless">{words.hand_restless()}</p> })}
            <button type="button" class="action laying-stop" on:click=begin>{words.measure_again()}</button>
        }
        .into_any(),
        At::Over => begin_button(words.measure_again()).into_any(),
        At::Numb(numb) => view! {
            <p class="caution laying-numb" role="alert">
                {match numb {
                    Numb::Refused => words.sensor_refused(),
                    Numb::Missing => words.sensor_missing(),
                }}
            </p>
            {begin_button(words.measure_again())}
        }
        .into_any(),
    }
    };
    view! { <section class="laying">{body}</section> }
}

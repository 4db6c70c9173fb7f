//! The cutting angle on the steel: by the phone's sense of gravity, or by tape; compared with the sheet; and how the teeth
//! stand to their plates.

use evenrow_journal::Command;
use evenrow_rules::angle::{Against, Angle as Degrees, AngleBand};
use evenrow_rules::marks::cutting_from_tape;
use evenrow_rules::setup::Sheet;
use evenrow_rules::tilt::{Gravity, NoAngle, Place as Lay, Tilt, tilt};
use evenrow_rules::work::Work;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::laying::{Laying, Measurement, PlaceWords};
use super::tape_field::{TapeField, typed_lengths};
use super::target::{Target, sheet_of, work_to_compare};
use crate::device::preferences;
use crate::parts::phone_laid::Laid;
use crate::shell::App;
use crate::words::Words;

/// What was typed off the tape.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Form {
    rise: String,
    run: String,
}

/// What the phone measured: the readings on the road, which serve for a tooth as well, and the plate.
#[derive(Clone, Debug, PartialEq)]
struct OnThePlate {
    road: Vec<Gravity>,
    plate: Tilt,
}

const LEVEL: Degrees = Degrees::whole_degrees(0);

/// The screen.
#[component]
pub fn Angle(
    /// What every screen is handed.
    app: App,
    /// The work to compare with.
    work: Option<Work>,
) -> impl IntoView {
    let words = app.words;
    let work = work_to_compare(app, work);
    let sheet = sheet_of(app, work);
    let band = Memo::new(move |_| sheet.with(|sheet| sheet.as_ref().map(cutting)));
    let target = Signal::derive(move || band.get().map_or_else(String::new, |it| told(words, it)));
    let plate = RwSignal::new(None::<OnThePlate>);
    let tooth = RwSignal::new(None::<Degrees>);
    let refused = RwSignal::new(None::<String>);
    let road = StoredValue::new(Vec::new());

    let on_begin = Callback::new(move |()| {
        refused.set(None);
        plate.set(None);
        tooth.set(None);
    });
    let on_read = Callback::new(move |(place, readings): (usize, Vec<Gravity>)| {
        // The road is checked by itself at once: nobody should walk to the plate in vain.
        let on_road = if place == 0 {
            readings.clone()
        } else {
            road.get_value()
        };
        match tilt(&on_road, &readings, LEVEL) {
            Err(why) => {
                refused.set(Some(no_angle(words, why)));
                false
            }
            Ok(_) if place == 0 => {
                road.set_value(readings);
                true
            }
            Ok(found) => {
                plate.set(Some(OnThePlate {
                    road: on_road,
                    plate: found,
                }));
                true
            }
        }
    });
    let drawn = move || {
        band.get()
            .map_or(Degrees::whole_degrees(50), AngleBand::target)
    };
    let offset = offset(app);
    let result = move || {
        let found = plate.get()?;
        let angle = found.plate.cutting.plus(offset.get().unwrap_or(LEVEL));
        let uncertain = words.fine_angle(found.plate.uncertainty);
        Some(view! {
            <p class="measured">{words.measured_angle(&words.fine_angle(angle), &uncertain)}</p>
            {compared(words, band.get(), angle)}
        })
    };
    let road_words = PlaceWords {
        name: words.lay_on_road(),
        how: words.lay_on_road_how(),
    };
    let plate_words = PlaceWords {
        name: words.lay_on_plate(),
        how: words.lay_on_plate_how(),
    };
    let places = vec![
        (road_words, Signal::derive(move || Laid::Road(drawn()))),
        (plate_words, Signal::derive(move || Laid::Plate(drawn()))),
    ];
    view! {
        <h1 tabindex="-1">{words.angle_title()}</h1>
        <p class="caution">{words.beware_make_it_safe_first()}</p>
        <p class="caution">{words.beware_phone_on_plate()}</p>
        <Target app work target/>
        <Measurement app places on_read on_begin refused>{result}</Measurement>
        <Tape app band plate tooth/>
        <PlateToTooth app plate tooth refused/>
    }
}

fn cutting(sheet: &Sheet) -> AngleBand {
    *sheet.cutting.value()
}

/// A target with its range.
pub fn told(words: &Words, band: AngleBand) -> String {
    words.angle_band(
        &words.angle(band.target()),
        &words.angle(band.low()),
        &words.angle(band.high()),
    )
}

/// How the teeth of the machine in use stand to their plates, if that has been found out.
fn offset(app: App) -> Memo<Option<Degrees>> {
    Memo::new(move |_| {
        let machine = app
            .machine
            .with(|machine| Some(machine.as_ref()?.id.clone()))?;
        app.state()
            .with(|state| state.measured(&machine).plate_to_tooth)
    })
}

/// How a measured angle stands to the target, and which way to move.
fn compared(
    words: &Words,
    band: Option<AngleBand>,
    angle: Degrees,
) -> Option<impl IntoView + use<>> {
    let band = band?;
    let (stands, text) = match band.compare(angle) {
        Against::InRange => (
            "in-range",
            words.angle_in_range(&words.angle(band.low()), &words.angle(band.high())),
        ),
        Against::Over(by) => ("over", words.angle_too_steep(&words.angle(by))),
        Against::Under(by) => ("under", words.angle_too_flat(&words.angle(by))),
    };
    Some(view! { <p class="compared" data-stands=stands>{text}</p> })
}

/// Why there is no angle, and what to do.
pub fn no_angle(words: &Words, why: NoAngle) -> String {
    let place = |at| match at {
        Lay::Road => words.place_road(),
        Lay::Blade => words.place_blade(),
    };
    match why {
        NoAngle::TooFew { at, .. } => words.no_angle_too_few(&place(at)),
        NoAngle::NotStill { at, .. } => words.no_angle_not_still(&place(at)),
        NoAngle::NotGravity { at, .. } => words.no_angle_not_gravity(&place(at)),
        NoAngle::NotAligned { at, lean } => {
            words.no_angle_not_aligned(&place(at), &words.angle(lean))
        }
        NoAngle::NotOnRoad { slope } => words.no_angle_not_on_road(&words.angle(slope)),
        NoAngle::Turned { by } => words.no_angle_turned(&words.angle(by)),
    }
}

/// Rise and run along a tooth: its own angle, whatever the phone can do.
#[component]
fn Tape(
    /// What every screen is handed.
    app: App,
    /// The target.
    band: Memo<Option<AngleBand>>,
    /// What the phone measured.
    plate: RwSignal<Option<OnThePlate>>,
    /// The tooth's own angle, once it is known.
    tooth: RwSignal<Option<Degrees>>,
) -> impl IntoView {
    let words = app.words;
    let form = preferences::draft::<Form>("angle").unwrap_or_default();
    let (rise, run) = (RwSignal::new(form.rise), RwSignal::new(form.run));
    let found = Memo::new(move |_| {
        typed_lengths(app, [rise, run]).map(|typed| {
            let [rise, run] = typed?;
            cutting_from_tape(rise, run).ok_or_else(|| words.tape_no_angle())
        })
    });
    let changed = Callback::new(move |()| {
        let form = Form {
            rise: rise.get_untracked(),
            run: run.get_untracked(),
        };
        preferences::set_draft("angle", &form);
        tooth.set(found.get_untracked().and_then(Result::ok));
    });
    // What was typed before the plate was measured tells the difference as well.
    Effect::new(move |_| {
        if plate.with(Option::is_some) {
            tooth.set(found.get_untracked().and_then(Result::ok));
        }
    });
    let shown = move || {
        found.get().map(|found| match found {
            Ok(angle) => view! {
                <p class="measured">{words.measured_by_tape(&words.fine_angle(angle))}</p>
                {compared(words, band.get(), angle)}
            }
            .into_any(),
            Err(why) => view! { <p class="wrong">{why}</p> }.into_any(),
        })
    };
    view! {
        <h2>{words.tape_title()}</h2>
        <p>{words.tape_lead()}</p>
        <div class="tape">
            <TapeField app what=Words::tape_rise typed=rise on_change=changed/>
            <TapeField app what=Words::tape_run typed=run on_change=changed/>
        </div>
        <div class="tape-result" role="status">{shown}</div>
    }
}

/// How the teeth stand to their plates: what is kept, and how to find it once.
#[component]
fn PlateToTooth(
    /// What every screen is handed.
    app: App,
    /// What the phone measured.
    plate: RwSignal<Option<OnThePlate>>,
    /// The tooth's own angle, once it is known.
    tooth: RwSignal<Option<Degrees>>,
    /// Why there is no angle.
    refused: RwSignal<Option<String>>,
) -> impl IntoView {
    let words = app.words;
    let offset = offset(app);
    let stands = move || match offset.get() {
        Some(angle) => words.plate_to_tooth_is(&words.fine_angle(angle)),
        None => words.plate_to_tooth_unknown(),
    };
    let on_read = Callback::new(move |(_, readings): (usize, Vec<Gravity>)| {
        let found =
            plate.with_untracked(|plate| Some(tilt(&plate.as_ref()?.road, &readings, LEVEL)));
        match found {
            Some(Ok(found)) => {
                tooth.set(Some(found.cutting));
                true
            }
            Some(Err(why)) => {
                refused.set(Some(no_angle(words, why)));
                false
            }
            None => false,
        }
    });
    let keep = move |plate: Degrees, tooth: Degrees| {
        let Some(machine) = app
            .machine
            .with_untracked(|it| Some(it.as_ref()?.id.clone()))
        else {
            return;
        };
        app.desk.submit(Command::SetPlateToTooth {
            machine,
            plate,
            tooth,
        });
    };
    let measured = Memo::new(move |_| plate.with(|plate| Some(plate.as_ref()?.plate.cutting)));
    let difference = move || {
        let (plate, tooth) = (measured.get()?, tooth.get()?);
        let off = tooth.plus(plate.reversed());
        let size = words.fine_angle(off.size());
        let text = if off < LEVEL {
            words.plate_to_tooth_flatter(&size)
        } else {
            words.plate_to_tooth_steeper(&size)
        };
        Some(view! {
            <p class="plate-to-tooth-found">{text}</p>
            <button type="button" class="big-action keep-plate-to-tooth" on:click=move |_| keep(plate, tooth)>
                {words.plate_to_tooth_keep()}
            </button>
        })
    };
    let along = move || {
        let places = vec![PlaceWords {
            name: words.lay_on_tooth(),
            how: words.lay_on_tooth_how(),
        }];
        let on_begin = Callback::new(move |()| refused.set(None));
        if measured.get().is_some() {
            view! {
                <p>{words.lay_on_tooth_how()}</p>
                <Laying app places on_read on_begin/>
            }
            .into_any()
        } else {
            view! { <p>{words.plate_to_tooth_first()}</p> }.into_any()
        }
    };
    view! {
        <details class="plate-to-tooth">
            <summary>{words.plate_to_tooth_title()}</summary>
            <div class="plate-to-tooth-body">
                <p class="plate-to-tooth-is">{stands}</p>
                <p>{words.plate_to_tooth_lead()}</p>
                {along}
                <div class="plate-to-tooth-body" role="status">{difference}</div>
            </div>
        </details>
    }
}

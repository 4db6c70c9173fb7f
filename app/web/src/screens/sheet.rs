//! The questions and the sheet of a work. Each answer changes the sheet at once.

use evenrow_journal::Command;
use evenrow_rules::machine::Machine;
use evenrow_rules::setup::{Caution, Reason, Sheet as SheetOf, Verdict, advise};
use evenrow_rules::work::{Question, Work, questions};
use leptos::prelude::*;

use super::terms::AskWords;
use super::usual::step_names;
use crate::answers::{Answers, Form, Steps, form, length, temperature};
use crate::device::preferences;
use crate::parts::choice::{Choice, answer};
use crate::parts::icon::{Icon, Shape};
use crate::parts::live::live;
use crate::parts::row_strip::{PlateView, RowStrip};
use crate::parts::sheet_line::{Reasons, SheetLine, SheetLineText, Why};
use crate::parts::side_view::SideView;
use crate::parts::stepper::Stepper;
use crate::parts::top_view::TopView;
use crate::place::{Place, work_name};
use crate::shell::{App, go};

/// How many cautions stand open; the usual ones after them open on a tap.
fn stands_open(caution: Caution) -> bool {
    match caution {
        Caution::NeverBackwards
        | Caution::WatchDownPressure
        | Caution::PavementCanBeHarmed
        | Caution::SmallErrorsShow
        | Caution::MeasureTheSurface
        | Caution::TryTheSurfacing
        | Caution::SkiddingMeansLess
        | Caution::StonesMeanLower
        | Caution::KeepThemTurning
        | Caution::BestWorkedMoist
        | Caution::SayWhichEndCuts
        | Caution::MeasureThePath
        | Caution::MakeItSafeFirst => true,
        Caution::ClearanceAsUsual
        | Caution::CoolBeforeOiling
        | Caution::CatchDrips
        | Caution::EyeProtection
        | Caution::TrafficProtection
        | Caution::MarkTheFrame
        | Caution::PhoneWhenStanding
        | Caution::OthersDecide => false,
    }
}

/// The screen.
#[component]
pub fn Sheet(
    /// What every screen is handed.
    app: App,
    /// The work.
    work: Work,
) -> impl IntoView {
    let words = app.words;
    let draft = format!("answers.{}", work_name(work));
    let answers = RwSignal::new(preferences::draft::<Answers>(&draft).unwrap_or_default());
    let draft = StoredValue::new(draft);
    let change = Callback::new(move |changed: Answers| {
        draft.with_value(|draft| preferences::set_draft(draft, &changed));
        answers.set(changed);
    });
    let asked = Memo::new(move |_| questions(work, &answers.get().conditions()));
    let machine = Memo::new(move |_| {
        app.machine
            .with(|machine| machine.as_ref().map(|it| it.machine))
    });
    let sheet = Memo::new(move |_| {
        let known = answers.get().conditions();
        machine
            .get()
            .map(|machine: Machine| advise(work, &known, &machine))
    });
    view! {
        <h1 tabindex="-1">{words.work(work)}</h1>
        <div class="questions">
            <For each=move || asked.get() key=|question| *question let:question>
                <Ask app question answers change/>
            </For>
        </div>
        {move || sheet.get().map(|sheet| view! { <SheetView app work sheet/> })}
        <a class="action" href=format!("#{}", Place::Pictures(Some(work)).hash())>{words.pictures_title()}</a>
        <AskWords phone=app.phone keys=&["term_cutting_angle", "term_grading_angle", "term_flange", "term_layer", "term_oiling"]/>
        <UseIt app work answers sheet/>
    }
}

/// One question with its answers, "I don't know" among them.
#[component]
fn Ask(
    /// What every screen is handed.
    app: App,
    /// The question.
    question: Question,
    /// What has been answered so far.
    answers: RwSignal<Answers>,
    /// Another answer was given.
    change: Callback<Answers>,
) -> impl IntoView {
    match form(question, app.units.get_untracked()) {
        Form::Either => view! { <AskEither app question answers change/> }.into_any(),
        Form::Number(steps) => view! { <AskNumber app question steps answers change/> }.into_any(),
    }
}

#[component]
fn AskEither(
    /// What every screen is handed.
    app: App,
    /// The question.
    question: Question,
    /// What has been answered so far.
    answers: RwSignal<Answers>,
    /// Another answer was given.
    change: Callback<Answers>,
) -> impl IntoView {
    let words = app.words;
    let (first, second) = match question {
        Question::Moisture => (words.answer_dusty(), words.answer_moist()),
        Question::Stones => (words.answer_many(), words.answer_few()),
        Question::CuttingEnd => (words.answer_right(), words.answer_left()),
        Question::Soft => (words.answer_soft(), words.answer_stiff()),
        Question::Skids
        | Question::Surface
        | Question::Layer
        | Question::Bite
        | Question::Path
        | Question::Strip => (words.answer_yes(), words.answer_no()),
    };
    let chosen = move || {
        Some(match answers.with(|answers| answers.either(question)) {
            Some(true) => 0,
            Some(false) => 1,
            None => 2,
        })
    };
    let pick = move |at: usize| {
        let mut answers = answers.get_untracked();
        answers.set_either(
            question,
            [Some(true), Some(false)].get(at).copied().flatten(),
        );
        change.run(answers);
    };
    view! {
        <Choice
            label=words.question(question)
            options=vec![first, second, words.answer_unknown()]
            chosen=Signal::derive(chosen)
            on_pick=Callback::new(pick)
        />
    }
}

#[component]
fn AskNumber(
    /// What every screen is handed.
    app: App,
    /// The question.
    question: Question,
    /// How it is tapped in.
    steps: Steps,
    /// What has been answered so far.
    answers: RwSignal<Answers>,
    /// Another answer was given.
    change: Callback<Answers>,
) -> impl IntoView {
    let words = app.words;
    let label = words.question(question);
    let value = move || answers.with(|answers| answers.number(question));
    let shown =
        move || value().map_or_else(|| "?".to_owned(), |value| number(app, question, value));
    let set = move |value: Option<i32>| {
        let mut answers = answers.get_untracked();
        answers.set_number(question, value);
        change.run(answers);
    };
    let step = move |up: bool| {
        set(Some(steps.tap(
            answers.with_untracked(|answers| answers.number(question)),
            up,
        )));
    };
    view! {
        <div class="ask-number">
            <Stepper
                names=step_names(words, &label)
                label=label
                value=Signal::derive(shown)
                on_step=Callback::new(step)
            />
            <div class="choice-options">
                {live(move || answer(words.answer_unknown(), value().is_none(), move || set(None)))}
            </div>
        </div>
    }
}

/// A number answered, as it is shown.
fn number(app: App, question: Question, value: i32) -> String {
    let (words, units) = (app.words, app.units.get());
    match question {
        Question::Surface => {
            temperature(value).map_or_else(String::new, |it| words.temperature(it, units))
        }
        Question::Layer | Question::Bite => words.thickness(length(value), units),
        Question::Path | Question::Strip => words.width(length(value), units),
        Question::Soft
        | Question::Skids
        | Question::Stones
        | Question::Moisture
        | Question::CuttingEnd => String::new(),
    }
}

fn why(app: App, because: &[Reason]) -> Vec<Why> {
    let (words, units) = (app.words, app.units.get_untracked());
    because
        .iter()
        .map(|reason| Why {
            head: String::new(),
            text: words.reason(reason, units),
            basis: words.basis(reason.basis()),
        })
        .collect()
}

/// The sheet in words and pictures.
#[component]
fn SheetView(
    /// What every screen is handed.
    app: App,
    /// The work.
    work: Work,
    /// The sheet.
    sheet: SheetOf,
) -> impl IntoView {
    let (words, units) = (app.words, app.units.get());
    let verdict = *sheet.verdict.value();
    let (shape, name) = match verdict {
        Verdict::Suits => (Shape::Tick, "suits"),
        Verdict::WithCare => (Shape::Care, "with-care"),
        Verdict::DoNot => (Shape::Stop, "do-not"),
    };
    let (open, folded): (Vec<Caution>, Vec<Caution>) =
        sheet.cautions.iter().partition(|it| stands_open(**it));
    let caution = move |caution: Caution| {
        view! { <li>{words.caution(caution)} " " <small class="basis">{words.basis(caution.basis())}</small></li> }
    };
    let (cutting, grading) = (*sheet.cutting.value(), *sheet.grading.value());
    view! {
        <details class="verdict" data-verdict=name>
            <summary class="verdict-head"><Icon shape/><span>{words.verdict(verdict)}</span></summary>
            <Reasons why=why(app, sheet.verdict.because())/>
        </details>
        {(verdict != Verdict::DoNot).then(|| view! {
            <div class="drawings">
                <figure>
                    <SideView angle=cutting.target() label=words.angle(cutting.target())/>
                    <figcaption>{words.cutting_angle()}</figcaption>
                </figure>
                <figure>
                    <TopView angle=grading.target() label=words.angle(grading.target())/>
                    <figcaption>{words.grading_angle()}</figcaption>
                </figure>
            </div>
            <RowStrip plates=plates(&sheet) told=words.plates(sheet.plates.value())/>
            <div class="sheet-lines">{lines(app, work, &sheet).into_iter().map(|line| view! { <SheetLine line/> }).collect_view()}</div>
        })}
        <h2>{words.beware()}</h2>
        <ul class="cautions">{open.into_iter().map(caution).collect_view()}</ul>
        <details class="more-cautions">
            <summary>{words.beware_more()}</summary>
            <ul class="cautions">{folded.into_iter().map(caution).collect_view()}</ul>
        </details>
        <a class="action" href="#sources">{words.sources_title()}</a>
        <p class="small">{words.units_note(&words.units_told(units))}</p>
    }
}

/// The plates of a sheet, as the strip draws them.
pub fn plates(sheet: &SheetOf) -> Vec<PlateView> {
    let spots = &sheet.plates.value().spots;
    spots
        .iter()
        .enumerate()
        .map(|(at, spot)| PlateView {
            number: (at + 1).to_string(),
            share: spot.length.in_micrometres(),
            skipped: spot.skipped,
            teeth: spot.teeth,
            room: spot.room,
        })
        .collect()
}

/// The lines of the sheet, in the order in which a machine is set up.
fn lines(app: App, work: Work, sheet: &SheetOf) -> Vec<SheetLineText> {
    let (words, units) = (app.words, app.units.get_untracked());
    let line = |what: String, value: String, because: &[Reason]| SheetLineText {
        what,
        value,
        why: why(app, because),
        link: None,
    };
    let linked = |line: SheetLineText, place: Place, name: String| SheetLineText {
        link: Some((format!("#{}", place.hash()), name)),
        ..line
    };
    let band = |band: &evenrow_rules::angle::AngleBand| {
        words.angle_band(
            &words.angle(band.target()),
            &words.angle(band.low()),
            &words.angle(band.high()),
        )
    };
    let mut lines = vec![
        line(
            words.line_teeth(),
            words.tooth_kinds(sheet.teeth.value()),
            sheet.teeth.because(),
        ),
        line(
            words.line_plates(),
            words.plates(sheet.plates.value()),
            sheet.plates.because(),
        ),
        linked(
            line(
                words.cutting_angle(),
                band(sheet.cutting.value()),
                sheet.cutting.because(),
            ),
            Place::Angle(Some(work)),
            words.measure_on_the_steel(),
        ),
        linked(
            line(
                words.grading_angle(),
                band(sheet.grading.value()),
                sheet.grading.because(),
            ),
            Place::Grading(Some(work)),
            words.set_by_tape(),
        ),
        line(
            words.line_tracks(),
            words.tracks_apart(&words.thickness(*sheet.tracks.value(), units)),
            sheet.tracks.because(),
        ),
        linked(
            line(
                words.line_layers(),
                words.layers(*sheet.layers.value(), units),
                sheet.layers.because(),
            ),
            Place::Load,
            words.see_load(),
        ),
        line(
            words.line_oil(),
            words.oilings(*sheet.oilings.value()),
            sheet.oilings.because(),
        ),
        line(words.line_oil_kind(), words.fuel_oil(), sheet.oil.because()),
        line(
            words.line_looks(),
            words.looks_per_interval(&sheet.looks_per_interval.value().to_string()),
            sheet.looks_per_interval.because(),
        ),
    ];
    if let Some(speed) = &sheet.speed {
        lines.push(line(
            words.line_speed(),
            words.at_most(&words.speed(*speed.value(), units)),
            speed.because(),
        ));
    }
    lines
}

/// What can be done with the sheet.
#[component]
fn UseIt(
    /// What every screen is handed.
    app: App,
    /// The work.
    work: Work,
    /// What has been answered.
    answers: RwSignal<Answers>,
    /// The sheet that follows.
    sheet: Memo<Option<SheetOf>>,
) -> impl IntoView {
    let words = app.words;
    let running = Memo::new(move |_| app.state().with(|state| state.running().is_some()));
    let forbidden = Memo::new(move |_| {
        sheet.with(|sheet| {
            sheet
                .as_ref()
                .is_some_and(|sheet| *sheet.verdict.value() == Verdict::DoNot)
        })
    });
    let take = move |_| {
        let known = answers.get_untracked().conditions();
        app.desk
            .submit_then(Command::UseSetup { work, known }, move || {
                go(&Place::Shift);
            });
    };
    move || {
        match (forbidden.get(), running.get()) {
        (true, _) => view! { <a class="action" href="#setup">{words.other_work()}</a> }.into_any(),
        (false, false) => view! {
            <p>{words.start_first()}</p>
            <a class="main-action" href="#shift">{words.start_action()}</a>
        }
        .into_any(),
        (false, true) => view! {
            <button type="button" class="main-action use-setup" on:click=take>{words.use_setup()}</button>
        }
        .into_any(),
    }
    }
}

//! The report of a shift: on the screen, through the share sheet, or copied as text.

use evenrow_journal::export::{Report as ReportOf, report};
use evenrow_journal::{Command, Id};
use leptos::prelude::*;

use crate::device::share::{self, Handed};
use crate::device::{page, preferences};
use crate::parts::field::{Field, Keyboard};
use crate::shell::App;
use crate::words::report::Section;
use crate::words::{times, without_soft_hyphens};

/// The screen.
#[component]
pub fn Report(
    /// What every screen is handed.
    app: App,
    /// Which shift.
    id: Id,
) -> impl IntoView {
    let words = app.words;
    let of = id.clone();
    let report = Memo::new(move |_| {
        // A shift that still runs changes its report by the minute, not by the second.
        app.vigil.minute().track();
        app.state().with(|state| {
            state
                .shift(&id)
                .map(|shift| report(state, shift, app.now.get_untracked()))
        })
    });
    let found = Memo::new(move |_| report.with(Option::is_some));
    let shown = move || match report.get() {
        Some(report) => view! { <Found app report/> }.into_any(),
        None => view! { <h1 tabindex="-1">{words.report_not_found()}</h1> }.into_any(),
    };
    view! {
        {shown}
        // Outside of the report, which is drawn anew by the minute while the shift runs.
        {move || found.get().then(|| view! { <Who app id=of.clone()/> })}
        <a class="action" href="#book">{words.to_book()}</a>
    }
}

#[component]
fn Found(
    /// What every screen is handed.
    app: App,
    /// The report.
    report: ReportOf,
) -> impl IntoView {
    let words = app.words;
    let units = app.units.get();
    let zone = times::zone_of(report.started, report.offset_minutes);
    let title = words.report_title(&report, &zone);
    let section = |section: Section| {
        view! {
            <section class="report-section">
                <h2>{section.title}</h2>
                <ul>{section.lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
            </section>
        }
    };
    let sections = words.report_sections(&report, units, &zone);
    // The text is made before the tap: the share sheet opens only straight from it.
    let text = StoredValue::new(words.report_text(&report, units, &zone));
    let heading = StoredValue::new(without_soft_hyphens(&title));
    let handed = RwSignal::new(None);
    let share = move |_| {
        let (heading, text) = (heading.get_value(), text.get_value());
        page::run(async move { handed.set(Some(share::share(&heading, &text).await)) });
    };
    let copy = move |_| {
        let text = text.get_value();
        page::run(async move { handed.set(Some(share::copy(&text).await)) });
    };
    // An invented report must not be taken for a real one, on paper or in a message.
    let handed_over = move || {
        view! {
        <div class="pair">
            {share::can_share().then(|| view! {
                <button type="button" class="big-action share-report" on:click=share>{words.share()}</button>
            })}
            <button type="button" class="big-action copy-report" on:click=copy>{words.copy()}</button>
        </div>
        }
    };
    view! {
        <article class="report">
            <h1 tabindex="-1">{title}</h1>
            {app.invented.then(|| view! { <p>{words.district_banner()}</p> })}
            {sections.into_iter().map(section).collect_view()}
            <p class="small">{words.report_foot()}</p>
        </article>
        {(!app.invented).then(handed_over)}
        <p role="status">{move || handed.get().and_then(|handed| match handed {
            Handed::Done => Some(words.copied()),
            Handed::Cancelled => None,
            Handed::Refused => Some(words.copy_refused()),
        })}</p>
        {if page::can_print() {
            view! {
                <button type="button" class="big-action print" on:click=move |_| page::print()>{words.report_print()}</button>
            }
            .into_any()
        } else {
            view! { <p class="cannot-print">{words.report_cannot_print()}</p> }.into_any()
        }}
    }
}

/// Who worked the shift: typed once, and offered again for the next.
#[component]
fn Who(
    /// What every screen is handed.
    app: App,
    /// Which shift.
    id: Id,
) -> impl IntoView {
    let words = app.words;
    let draft = StoredValue::new(format!("who.{}", id.as_str()));
    let last = app.state().with_untracked(|state| {
        let of_this = state.shift(&id).and_then(|shift| shift.who.clone());
        let before = || {
            state
                .shifts
                .iter()
                .rev()
                .find_map(|shift| shift.who.clone())
        };
        of_this.or_else(before)
    });
    let kept = draft.with_value(|draft| preferences::draft::<String>(draft));
    let name = RwSignal::new(kept.or(last).unwrap_or_default());
    let typed = move |typed: String| {
        draft.with_value(|draft| preferences::set_draft(draft, &typed));
        name.set(typed);
    };
    let keep = move |_| {
        let ask = Command::SayWho {
            shift: id.clone(),
            name: name.get_untracked(),
        };
        app.desk.submit_then(ask, move || {
            draft.with_value(|draft| preferences::drop_draft(draft));
        });
    };
    view! {
        <div class="who">
            <Field
                label=words.who_label()
                keyboard=Keyboard::Text
                value=name
                invalid=false
                on_input=Callback::new(typed)
            />
            <button type="button" class="action keep-who" on:click=keep>{words.who_keep()}</button>
        </div>
    }
}

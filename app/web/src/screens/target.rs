//! What a measurement on the steel is compared with: the sheet of the work in use, or of one that is picked.

use evenrow_rules::setup::{Sheet, advise};
use evenrow_rules::work::{Conditions, Work};
use leptos::prelude::*;

use crate::answers::Answers;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::place::{work_name, work_named};
use crate::shell::App;

/// The form in which the work picked is kept, for all screens that compare.
const PICKED: &str = "steel.work";

/// The work to compare with: the one of the address, else the one in use, else the one picked last.
pub fn work_to_compare(app: App, asked: Option<Work>) -> RwSignal<Option<Work>> {
    let in_use = app
        .state()
        .with_untracked(|state| Some(state.running()?.setup()?.work));
    let picked = || work_named(&preferences::draft::<String>(PICKED)?);
    RwSignal::new(asked.or(in_use).or_else(picked))
}

/// The sheet of a work as things stand: with what was known when it was taken, or with the answers given on its own screen.
pub fn sheet_of(app: App, work: RwSignal<Option<Work>>) -> Memo<Option<Sheet>> {
    Memo::new(move |_| {
        let work = work.get()?;
        let machine = app
            .machine
            .with(|machine| machine.as_ref().map(|it| it.machine))?;
        let in_use = app.state().with(|state| {
            let setup = state.running()?.setup()?;
            (setup.work == work).then_some(setup.known)
        });
        let known = in_use.unwrap_or_else(|| answered(work));
        Some(advise(work, &known, &machine))
    })
}

fn answered(work: Work) -> Conditions {
    let draft = preferences::draft::<Answers>(&format!("answers.{}", work_name(work)));
    draft.unwrap_or_default().conditions()
}

/// The target with the work that it belongs to, and the choice of another.
#[component]
pub fn Target(
    /// What every screen is handed.
    app: App,
    /// The work.
    work: RwSignal<Option<Work>>,
    /// The target in words.
    #[prop(into)]
    target: Signal<String>,
) -> impl IntoView {
    let words = app.words;
    let told = move || match work.get() {
        Some(work) => words.target_of(&words.work(work), &target.get()),
        None => words.target_none(),
    };
    let pick = move |at: usize| {
        let Some(picked) = Work::ALL.get(at).copied() else {
            return;
        };
        preferences::set_draft(PICKED, &work_name(picked));
        work.set(Some(picked));
    };
    let chosen = move || Work::ALL.iter().position(|&it| Some(it) == work.get());
    view! {
        <p class="target">{told}</p>
        <details class="target-other">
            <summary>{words.target_other()}</summary>
            <Choice
                label=words.target_work()
                options=Work::ALL.iter().map(|&work| words.work(work)).collect()
                chosen=Signal::derive(chosen)
                on_pick=Callback::new(pick)
            />
        </details>
    }
}

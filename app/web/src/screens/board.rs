//! The length of the moldboard: one of the usual ones, or typed.

use evenrow_rules::machine::FOOT;
use evenrow_rules::quantity::Length;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use crate::parts::choice::Choice;
use crate::parts::field::{Field, Keyboard};
use crate::parts::live::{Reads, drawn, when};
use crate::phone::Phone;
use crate::units::{Quantity, System, Units};
use crate::words::numbers::{parse_thousandths, thousandths};

/// The usual boards in feet.
const USUAL_FEET: [u32; 3] = [12, 13, 14];

/// What has been picked or typed so far.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct BoardForm {
    /// Which of the usual ones; the number after the last means another.
    pub picked: Option<usize>,
    /// The other one, as typed.
    pub typed: String,
}

/// Why there is no length yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoBoard {
    /// Nothing was picked.
    NotPicked,
    /// What was typed is no number.
    NotANumber,
}

impl BoardForm {
    /// The form that shows a length already known.
    pub fn of(length: Length, units: Units) -> BoardForm {
        match USUAL_FEET
            .iter()
            .position(|&feet| FOOT.times(feet).in_micrometres() == length.in_micrometres())
        {
            Some(at) => BoardForm {
                picked: Some(at),
                typed: String::new(),
            },
            None => {
                let um = u64::from(length.in_micrometres());
                let shown = match units.of(Quantity::Road) {
                    System::Metric => um / 1000,
                    System::Us => (um * 1000 + 152_400) / u64::from(FOOT.in_micrometres()),
                };
                BoardForm {
                    picked: Some(USUAL_FEET.len()),
                    typed: thousandths(shown),
                }
            }
        }
    }

    /// The length that the form says.
    pub fn length(&self, units: Units) -> Result<Length, NoBoard> {
        let picked = self.picked.ok_or(NoBoard::NotPicked)?;
        if let Some(&feet) = USUAL_FEET.get(picked) {
            return Ok(FOOT.times(feet));
        }
        let thousandths = parse_thousandths(&self.typed).ok_or(NoBoard::NotANumber)?;
        // Less than nothing is nothing: it is refused further on, with the right range.
        let thousandths = u64::try_from(thousandths).unwrap_or(0);
        let um = match units.of(Quantity::Road) {
            System::Metric => thousandths * 1000,
            System::Us => thousandths * u64::from(FOOT.in_micrometres()) / 1000,
        };
        Ok(Length::micrometres(u32::try_from(um).unwrap_or(u32::MAX)))
    }
}

/// The form.
#[component]
pub fn BoardFields(
    /// What needs no record.
    phone: Phone,
    /// What has been picked or typed so far.
    form: RwSignal<BoardForm>,
    /// What is wrong with it.
    wrong: RwSignal<Option<String>>,
    /// It was changed.
    on_change: Callback<()>,
) -> impl IntoView {
    let words = phone.words;
    let pick = move |at: usize| {
        form.update(|form| form.picked = Some(at));
        wrong.set(None);
        on_change.run(());
    };
    let typed = move |text: String| {
        form.update(|form| form.typed = text);
        wrong.set(None);
        on_change.run(());
    };
    let options = USUAL_FEET
        .iter()
        .map(|feet| {
            let metres = words.width(FOOT.times(*feet), Units::METRIC);
            words.board_usual(&feet.to_string(), &metres)
        })
        .chain([words.board_other()])
        .collect();
    // The field must not be drawn anew with every letter typed into it.
    let other = move || form.with(|form| form.picked == Some(USUAL_FEET.len()));
    let label = move || match phone.units.get().of(Quantity::Road) {
        System::Metric => words.board_typed_metres(),
        System::Us => words.board_typed_feet(),
    };
    drawn(view! {
        <Choice
            label=words.board_ask()
            options=options
            chosen=Reads::of(move || form.with(|form| form.picked))
            on_pick=Callback::new(pick)
        />
        {when(other, move || view! {
            <Field
                label=label()
                keyboard=Keyboard::Decimal
                value=Reads::of(move || form.with(|form| form.typed.clone()))
                invalid=Reads::of(move || wrong.get().is_some())
                on_input=Callback::new(typed)
            />
        }.into_any())}
        <p class="wrong" role="alert">{move || wrong.get().unwrap_or_default()}</p>
    })
}

/// The sentence for a form that says no length.
pub fn no_board(phone: Phone, why: NoBoard) -> String {
    match why {
        NoBoard::NotPicked => phone.words.board_not_picked(),
        NoBoard::NotANumber => match phone.units.get_untracked().of(Quantity::Road) {
            System::Metric => phone.words.board_not_metres(),
            System::Us => phone.words.board_not_feet(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(text: &str, units: Units) -> Result<u32, NoBoard> {
        let form = BoardForm {
            picked: Some(USUAL_FEET.len()),
            typed: text.to_owned(),
        };
        form.length(units).map(Length::in_micrometres)
    }

    #[test]
    fn a_board_is_read_in_the_units_of_the_phone() {
        assert_eq!(typed("4.27", Units::METRIC), Ok(4_270_000));
        assert_eq!(typed("14", Units::US), Ok(4_267_200));
        assert_eq!(typed("0", Units::METRIC), Ok(0));
        assert_eq!(typed("-3", Units::METRIC), Ok(0));
        assert_eq!(typed("40", Units::METRIC), Ok(40_000_000));
        assert_eq!(typed("twelve", Units::METRIC), Err(NoBoard::NotANumber));
        assert_eq!(
            BoardForm::default().length(Units::US),
            Err(NoBoard::NotPicked)
        );
    }

    #[test]
    fn a_board_already_known_is_shown_again_as_it_was() {
        for feet in USUAL_FEET {
            // As the records give it back: in whole micrometres.
            let kept = Length::micrometres(FOOT.times(feet).in_micrometres());
            assert!(BoardForm::of(kept, Units::US).typed.is_empty());
        }
        let odd = Length::micrometres(4_000_000);
        assert_eq!(
            BoardForm::of(odd, Units::METRIC).length(Units::METRIC),
            Ok(odd)
        );
    }

    #[test]
    fn every_hundredth_of_a_foot_and_every_millimetre_comes_back_as_it_was_typed() {
        for (units, step, most) in [(Units::US, 10, 40_000), (Units::METRIC, 1, 12_000)] {
            for count in (0..=most).step_by(step) {
                let typed = thousandths(count);
                let form = BoardForm {
                    picked: Some(USUAL_FEET.len()),
                    typed: typed.clone(),
                };
                let length = form.length(units).unwrap();
                let shown = BoardForm::of(length, units);
                let again = shown.length(units).unwrap();
                assert_eq!(again.in_micrometres(), length.in_micrometres());
                // A usual board is shown as such.
                assert!(
                    shown.typed == typed || shown.picked != form.picked,
                    "{typed}"
                );
            }
        }
    }
}

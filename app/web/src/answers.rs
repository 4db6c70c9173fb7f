//! The answers to the questions of the set-up sheet, as they are tapped in: whole numbers that a half-filled form keeps.
//!
//! Never here: what they mean (`evenrow_rules::work`).

use evenrow_rules::quantity::{Length, Temperature};
use evenrow_rules::work::{Conditions, End, Moisture, Question, Stones};
use serde::{Deserialize, Serialize};

use crate::units::{Quantity, System, Units};
use crate::words::numbers::INCH_UM;

/// What has been answered so far; nothing means "I don't know".
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Answers {
    /// Surface temperature in tenths of a degree Celsius.
    pub surface: Option<i32>,
    /// Whether the surfacing is soft.
    pub soft: Option<bool>,
    /// Thickness of the layer in micrometres.
    pub layer: Option<i32>,
    /// Whether the edge skids.
    pub skids: Option<bool>,
    /// What bites in micrometres.
    pub bite: Option<i32>,
    /// Whether there are many stones.
    pub many_stones: Option<bool>,
    /// Whether it is dusty.
    pub dusty: Option<bool>,
    /// Width of the path in micrometres.
    pub path: Option<i32>,
    /// Width of the strip in micrometres.
    pub strip: Option<i32>,
    /// Whether the right end cuts.
    pub right_end: Option<bool>,
}

/// In what a number is shown while it is tapped in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// As it is kept.
    AsKept,
    /// Kept in tenths of a degree Celsius, shown in Fahrenheit.
    Fahrenheit,
}

impl Scale {
    fn show(self, kept: i32) -> i32 {
        match self {
            Scale::AsKept => kept,
            Scale::Fahrenheit => (f64::from(kept) * 1.8).round() as i32 + 320,
        }
    }

    fn keep(self, shown: i32) -> i32 {
        match self {
            Scale::AsKept => shown,
            Scale::Fahrenheit => (f64::from(shown - 320) / 1.8).round() as i32,
        }
    }
}

/// How a number question is tapped in: where it begins, by how much a tap moves it, and where it stops.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Steps {
    /// In what it is shown.
    pub scale: Scale,
    /// The first value that a tap gives, as kept.
    pub first: i32,
    /// How much a tap moves it, as shown.
    pub step: i32,
    /// The least.
    pub least: i32,
    /// The most.
    pub most: i32,
}

impl Steps {
    /// The value after a tap up or down. In whole steps, so that values stay round in the unit shown.
    pub fn tap(self, value: Option<i32>, up: bool) -> i32 {
        let Some(value) = value else {
            return self.first;
        };
        // To the nearest whole step first: kept tenths of a degree must not drift away from whole degrees shown.
        let steps = (f64::from(self.scale.show(value)) / f64::from(self.step)).round() as i32;
        let moved = if up { steps + 1 } else { steps - 1 };
        self.scale
            .keep(moved * self.step)
            .clamp(self.least, self.most)
    }
}

/// How a question is answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// By one of two answers, or "I don't know".
    Either,
    /// By a number, or "I don't know".
    Number(Steps),
}

/// How a question is answered in the units of this phone.
pub fn form(question: Question, units: Units) -> Form {
    let inch = INCH_UM.cast_signed();
    let scaled = |scale, first, step, least, most| {
        Form::Number(Steps {
            scale,
            first,
            step,
            least,
            most,
        })
    };
    let number = |first, step, least, most| scaled(Scale::AsKept, first, step, least, most);
    let by = |quantity, metric, us| match units.of(quantity) {
        System::Metric => metric,
        System::Us => us,
    };
    match question {
        Question::Soft
        | Question::Skids
        | Question::Stones
        | Question::Moisture
        | Question::CuttingEnd => Form::Either,
        // Ten degrees stand in the middle of the bands; -40 to +60 °C holds every road surface.
        Question::Surface => by(
            Quantity::Temperature,
            number(100, 10, -400, 600),
            scaled(Scale::Fahrenheit, 100, 20, -400, 600),
        ),
        Question::Layer => by(
            Quantity::Tape,
            number(30_000, 5_000, 5_000, 500_000),
            number(inch, inch / 4, inch / 4, 20 * inch),
        ),
        Question::Bite => by(
            Quantity::Tape,
            number(30_000, 5_000, 5_000, 100_000),
            number(inch, inch / 4, inch / 4, 4 * inch),
        ),
        Question::Path => by(
            Quantity::Road,
            number(2_000_000, 100_000, 300_000, 6_000_000),
            number(78 * inch, 6 * inch, 12 * inch, 240 * inch),
        ),
        Question::Strip => by(
            Quantity::Road,
            number(1_000_000, 100_000, 200_000, 3_000_000),
            number(36 * inch, 6 * inch, 6 * inch, 120 * inch),
        ),
    }
}

impl Answers {
    /// The number answered.
    pub fn number(&self, question: Question) -> Option<i32> {
        match question {
            Question::Surface => self.surface,
            Question::Layer => self.layer,
            Question::Bite => self.bite,
            Question::Path => self.path,
            Question::Strip => self.strip,
            Question::Soft
            | Question::Skids
            | Question::Stones
            | Question::Moisture
            | Question::CuttingEnd => None,
        }
    }

    /// The first of the two answers is `true`.
    pub fn either(&self, question: Question) -> Option<bool> {
        match question {
            Question::Soft => self.soft,
            Question::Skids => self.skids,
            Question::Stones => self.many_stones,
            Question::Moisture => self.dusty,
            Question::CuttingEnd => self.right_end,
            Question::Surface
            | Question::Layer
            | Question::Bite
            | Question::Path
            | Question::Strip => None,
        }
    }

    /// Answers a number question.
    pub fn set_number(&mut self, question: Question, answer: Option<i32>) {
        match question {
            Question::Surface => self.surface = answer,
            Question::Layer => self.layer = answer,
            Question::Bite => self.bite = answer,
            Question::Path => self.path = answer,
            Question::Strip => self.strip = answer,
            Question::Soft
            | Question::Skids
            | Question::Stones
            | Question::Moisture
            | Question::CuttingEnd => {}
        }
    }

    /// Answers a question of two answers.
    pub fn set_either(&mut self, question: Question, answer: Option<bool>) {
        match question {
            Question::Soft => self.soft = answer,
            Question::Skids => self.skids = answer,
            Question::Stones => self.many_stones = answer,
            Question::Moisture => self.dusty = answer,
            Question::CuttingEnd => self.right_end = answer,
            Question::Surface
            | Question::Layer
            | Question::Bite
            | Question::Path
            | Question::Strip => {}
        }
    }

    /// What the rules look at.
    pub fn conditions(&self) -> Conditions {
        Conditions {
            surface: self.surface.and_then(temperature),
            soft: self.soft,
            layer: self.layer.map(length),
            skids: self.skids,
            bite: self.bite.map(length),
            stones: self
                .many_stones
                .map(|many| if many { Stones::Many } else { Stones::Few }),
            moisture: self.dusty.map(|dusty| {
                if dusty {
                    Moisture::Dusty
                } else {
                    Moisture::Moist
                }
            }),
            path: self.path.map(length),
            strip: self.strip.map(length),
            cutting_end: self
                .right_end
                .map(|right| if right { End::Right } else { End::Left }),
        }
    }
}

/// A temperature from its tenths of a degree Celsius.
pub fn temperature(tenths: i32) -> Option<Temperature> {
    Temperature::celsius(f64::from(tenths) / 10.0).ok()
}

/// A length from its micrometres; less than nothing is nothing.
pub fn length(um: i32) -> Length {
    Length::micrometres(u32::try_from(um).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::english;

    #[test]
    fn the_first_tap_gives_the_first_value_and_the_last_stops_at_the_end() {
        let Form::Number(steps) = form(Question::Surface, Units::METRIC) else {
            panic!("a number")
        };
        assert_eq!(steps.tap(None, true), 100);
        assert_eq!(steps.tap(Some(100), true), 110);
        assert_eq!(steps.tap(Some(100), false), 90);
        assert_eq!(steps.tap(Some(600), true), 600);
    }

    #[test]
    fn degrees_fahrenheit_go_up_and_down_in_twos_over_the_whole_range() {
        let Form::Number(steps) = form(Question::Surface, Units::US) else {
            panic!("a number")
        };
        let mut kept = steps.first;
        for fahrenheit in (50..140).step_by(2) {
            let shown = english().temperature(temperature(kept).unwrap(), Units::US);
            assert_eq!(shown, format!("{fahrenheit} °F"));
            assert_eq!(steps.tap(Some(steps.tap(Some(kept), true)), false), kept);
            kept = steps.tap(Some(kept), true);
        }
    }

    #[test]
    fn every_question_can_be_answered_and_read_back() {
        let all = [
            Question::Surface,
            Question::Soft,
            Question::Layer,
            Question::Skids,
            Question::Bite,
            Question::Stones,
            Question::Moisture,
            Question::Path,
            Question::Strip,
            Question::CuttingEnd,
        ];
        for units in [Units::METRIC, Units::US] {
            for question in all {
                let mut answers = Answers::default();
                match form(question, units) {
                    Form::Either => {
                        answers.set_either(question, Some(true));
                        assert_eq!(answers.either(question), Some(true));
                    }
                    Form::Number(steps) => {
                        assert!(steps.least < steps.first && steps.first < steps.most);
                        answers.set_number(question, Some(steps.first));
                        assert_eq!(answers.number(question), Some(steps.first));
                    }
                }
                assert_ne!(answers.conditions(), Conditions::default());
            }
        }
    }
}

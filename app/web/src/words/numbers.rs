//! Numbers, lengths and temperatures as they are shown and typed, in the units of the phone.
//!
//! Everything is counted in whole thousandths: the formatting and parsing of floating-point numbers alone would cost a
//! tenth of the app's size. The decimal mark is that of the language; thousands are not set apart, for what is typed is
//! not either. Never here: which number is right.

use std::cell::Cell;

use evenrow_rules::angle::Angle;
use evenrow_rules::machine::FOOT;
use evenrow_rules::quantity::{
    Distance, Force, KilometresPerHour, Length, Mass, STANDARD_GRAVITY, Speed, Temperature,
};

use super::Words;
use crate::units::{Quantity, System, Units};

/// Micrometres in an inch, exactly.
pub const INCH_UM: u32 = 25_400;

/// A pace within this of the plan is as planned. House default.
pub const AS_PLANNED: f64 = 0.05;

/// Square metres in a square yard, exactly: a yard is 0.9144 m.
pub const SQUARE_YARD_M2: f64 = 0.9144 * 0.9144;

/// Litres in a US gallon, exactly: 231 cubic inches.
pub const GALLON_L: f64 = 3.785_411_784;

/// Kilometres in a mile, exactly.
pub const MILE_KM: f64 = 1.609_344;

/// A decimal number as typed, in thousandths: digits with at most one comma or point and at most three places after it.
/// Anything else is none.
pub fn parse_thousandths(typed: &str) -> Option<i64> {
    let typed = typed.trim();
    let (sign, digits) = match typed.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, typed),
    };
    let (whole, part) = digits
        .split_once(['.', ',', DECIMAL_MARK.get()])
        .unwrap_or((digits, ""));
    let plain = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || 9 < whole.len() || 3 < part.len() || !plain(whole) || !plain(part) {
        return None;
    }
    let thousandths: i64 = format!("{part:0<3}").parse().ok()?;
    Some(sign * (whole.parse::<i64>().ok()? * 1000 + thousandths))
}

/// A number out of a text that was made for the eye, in thousandths: with the spaces of its thousands and a real minus.
pub fn parse_shown(shown: &str) -> Option<i64> {
    let plain = shown.chars().filter(|letter| !letter.is_whitespace());
    let plain: String = plain
        .map(|letter| if letter == MINUS { '-' } else { letter })
        .collect();
    parse_thousandths(&plain)
}

/// What stands before a number below nought.
const MINUS: char = '\u{2212}';

thread_local! {
    /// The app speaks one language at a time.
    static DECIMAL_MARK: Cell<char> = const { Cell::new('.') };
}

/// Chooses what stands between a whole number and its parts.
pub fn set_decimal_mark(mark: char) {
    DECIMAL_MARK.set(mark);
}

/// A length read off a tape as typed: millimetres, or inches with a fraction or a decimal, such as 72 1/16. Anything else
/// is none.
pub fn parse_tape(typed: &str, units: Units) -> Option<Length> {
    let typed = typed.trim();
    let um = match units.of(Quantity::Tape) {
        System::Metric => parse_thousandths(typed)?,
        System::Us => {
            let (whole, part) = match typed.rsplit_once(' ') {
                Some((whole, part)) => (whole, Some(part)),
                None if typed.contains('/') => ("0", Some(typed)),
                None => (typed, None),
            };
            let part = part.map_or(Some(0), |part| {
                let (over, under) = part.split_once('/')?;
                let (over, under): (u16, u16) = (over.parse().ok()?, under.parse().ok()?);
                let inch = i64::from(INCH_UM);
                (over < under).then(|| i64::from(over) * inch / i64::from(under))
            })?;
            parse_thousandths(whole)? * i64::from(INCH_UM) / 1000 + part
        }
    };
    let um = u32::try_from(um).ok()?;
    let length = Length::micrometres(um);
    (length.in_micrometres() == um).then_some(length)
}

/// Kilograms in a pound, exactly.
pub const POUND_KG: f64 = 0.453_592_37;

/// A mass as typed, in kilograms or pounds. Anything else is none.
pub fn parse_mass(typed: &str, units: Units) -> Option<Mass> {
    let number = parse_thousandths(typed)? as f64 / 1000.0;
    let kilograms = match units.of(Quantity::Weight) {
        System::Metric => number,
        System::Us => number * POUND_KG,
    };
    Mass::kilograms(kilograms).ok()
}

/// A number rounded to a given number of places, without trailing zeros: 3.66, 12, 0.5.
pub fn decimal(value: f64, places: u32) -> String {
    marked((value * 10_i64.pow(places) as f64).round() as i64, places)
}

/// Thousandths as they would be typed.
pub fn thousandths(count: u64) -> String {
    marked(i64::try_from(count).unwrap_or(i64::MAX), 3)
}

/// A whole number of tenths, hundredths or so on, with its mark.
fn marked(rounded: i64, places: u32) -> String {
    let scale = 10_i64.pow(places);
    let (whole, part) = (rounded.abs() / scale, rounded.abs() % scale);
    let mut shown = if rounded < 0 {
        String::from(MINUS)
    } else {
        String::new()
    };
    shown.push_str(&whole.to_string());
    if part != 0 {
        let part = format!("{part:0>width$}", width = places as usize);
        shown.push(DECIMAL_MARK.get());
        shown.push_str(part.trim_end_matches('0'));
    }
    shown
}

/// A length in sixteenths of an inch, the fraction in its lowest terms: 9/16, 1 3/8, 2.
fn sixteenths(length: Length) -> String {
    fraction(sixteenths_in(length), 16)
}

/// So many sixteenths or the like, the fraction in its lowest terms. A number under a fraction is a power of two.
fn fraction(count: u64, under: u64) -> String {
    let (whole, part) = (count / under, count % under);
    if part == 0 {
        return whole.to_string();
    }
    let common = 1 << part.trailing_zeros();
    let fraction = format!("{}/{}", part / common, under / common);
    if whole == 0 {
        fraction
    } else {
        format!("{whole} {fraction}")
    }
}

fn sixteenths_in(length: Length) -> u64 {
    parts_of_inch(length, 16)
}

fn parts_of_inch(length: Length, under: u64) -> u64 {
    let inch = u64::from(INCH_UM);
    (u64::from(length.in_micrometres()) * under + inch / 2) / inch
}

/// One step up or down from a tip, onto the marks of the rule: half millimetres, or sixteenths of an inch.
pub fn tip_stepped(tip: Length, more: bool, units: Units) -> Length {
    stepped(tip, more, units, 500)
}

/// One step up or down from what was made with a tool: tenths of a millimetre, or sixteenths of an inch.
pub fn made_stepped(made: Length, more: bool, units: Units) -> Length {
    stepped(made, more, units, 100)
}

fn stepped(length: Length, more: bool, units: Units, mark_um: u64) -> Length {
    let step = |mark: u64| {
        if more {
            mark + 1
        } else {
            mark.saturating_sub(1)
        }
    };
    let um = match units.of(Quantity::Tape) {
        System::Metric => {
            step((u64::from(length.in_micrometres()) + mark_um / 2) / mark_um) * mark_um
        }
        System::Us => (step(sixteenths_in(length)) * u64::from(INCH_UM) + 8) / 16,
    };
    Length::micrometres(u32::try_from(um).unwrap_or(u32::MAX))
}

/// A tip without its unit, where that stands elsewhere: 14.5, 9/16.
pub fn tip_bare(tip: Length, units: Units) -> String {
    match units.of(Quantity::Tape) {
        System::Metric => decimal(tip.in_millimetres(), 1),
        System::Us => sixteenths(tip),
    }
}

/// A length as it was typed off a tape, with nothing rounded away: what is no fraction of an inch is a decimal.
pub fn tape_typed(length: Length, units: Units) -> String {
    let um = u64::from(length.in_micrometres());
    match units.of(Quantity::Tape) {
        System::Metric => thousandths(um),
        System::Us => {
            let inch = u64::from(INCH_UM);
            // A fraction is kept in whole micrometres.
            let exact =
                |under: &u64| (parts_of_inch(length, *under) * inch / under).abs_diff(um) <= 1;
            match [16, 32, 64].into_iter().find(exact) {
                Some(under) => fraction(parts_of_inch(length, under), under),
                None => thousandths((um * 1000 + inch / 2) / inch),
            }
        }
    }
}

/// A mass as it was typed: as fine as whole grams are.
pub fn mass_typed(mass: Mass, units: Units) -> String {
    match units.of(Quantity::Weight) {
        System::Metric => decimal(mass.in_kilograms(), 3),
        System::Us => decimal(mass.in_kilograms() / POUND_KG, 2),
    }
}

/// A length as a tape shows it, without its unit.
fn tape_number(length: Length, units: Units) -> String {
    match units.of(Quantity::Tape) {
        System::Metric => decimal(length.in_millimetres(), 0),
        System::Us => sixteenths(length),
    }
}

/// A mass in whole kilograms or pounds, without its unit.
fn mass_number(mass: Mass, units: Units) -> String {
    match units.of(Quantity::Weight) {
        System::Metric => decimal(mass.in_kilograms(), 0),
        System::Us => decimal(mass.in_kilograms() / POUND_KG, 0),
    }
}

impl Words {
    /// In which units numbers are shown.
    pub fn units_told(&self, units: Units) -> String {
        match units.system() {
            Some(System::Metric) => self.units_metric(),
            Some(System::Us) => self.units_us(),
            None => self.units_mixed(),
        }
    }

    /// A tip as it is measured: 14.5 mm, 9/16 in.
    pub fn tip(&self, tip: Length, units: Units) -> String {
        match units.of(Quantity::Tape) {
            System::Metric => self.millimetres(&tip_bare(tip, units)),
            System::Us => self.inches(&tip_bare(tip, units)),
        }
    }

    /// A thickness or a distance between tracks: 30 mm, 1.2 in.
    pub fn thickness(&self, length: Length, units: Units) -> String {
        match units.of(Quantity::Tape) {
            System::Metric => self.millimetres(&decimal(length.in_millimetres(), 0)),
            System::Us => self.inches(&decimal(
                length.in_millimetres() * 1000.0 / f64::from(INCH_UM),
                1,
            )),
        }
    }

    /// A width or the length of a board: 3.66 m, 12 ft.
    pub fn width(&self, length: Length, units: Units) -> String {
        match units.of(Quantity::Road) {
            System::Metric => self.metres(&decimal(length.in_millimetres() / 1000.0, 2)),
            System::Us => self.feet(&decimal(length.in_millimetres() / FOOT.in_millimetres(), 1)),
        }
    }

    /// A tool-made length that must not be rounded away: 914.4 mm, 36 in.
    pub fn exact(&self, length: Length, units: Units) -> String {
        match units.of(Quantity::Tape) {
            System::Metric => self.millimetres(&decimal(length.in_millimetres(), 1)),
            System::Us => self.inches(&decimal(
                length.in_millimetres() * 1000.0 / f64::from(INCH_UM),
                2,
            )),
        }
    }

    /// A length as a tape shows it: whole millimetres, or inches and sixteenths.
    pub fn tape(&self, length: Length, units: Units) -> String {
        match units.of(Quantity::Tape) {
            System::Metric => self.millimetres(&tape_number(length, units)),
            System::Us => self.inches(&tape_number(length, units)),
        }
    }

    /// A mass in whole kilograms or pounds.
    pub fn mass(&self, mass: Mass, units: Units) -> String {
        match units.of(Quantity::Weight) {
            System::Metric => self.kilograms(&mass_number(mass, units)),
            System::Us => self.pounds(&mass_number(mass, units)),
        }
    }

    /// A force: 0.98 kN, 220 lbf.
    pub fn force(&self, force: Force, units: Units) -> String {
        let kilonewtons = force.in_kilonewtons();
        match units.of(Quantity::Weight) {
            System::Metric => {
                // Two figures that count, whether it is a tooth or a whole edge.
                let places = if kilonewtons < 10.0 { 2 } else { 0 };
                self.kilonewtons(&decimal(kilonewtons, places))
            }
            System::Us => {
                let pounds = kilonewtons * 1000.0 / (POUND_KG * STANDARD_GRAVITY);
                self.pounds_force(&decimal(pounds, 0))
            }
        }
    }

    /// A share in per cent: 4.2 %.
    pub fn per_cent(&self, per_cent: f64) -> String {
        self.in_per_cent(&decimal(per_cent, 1))
    }

    /// An angle to the tenth of a degree.
    pub fn fine_angle(&self, angle: Angle) -> String {
        self.degrees(&decimal(angle.in_degrees(), 1))
    }

    /// How many times as much as with a full row: 4, 2.3.
    pub fn times_full_row(&self, times: f64) -> String {
        self.load_times(&decimal(times, 1))
    }

    /// A temperature in whole degrees.
    pub fn temperature(&self, temperature: Temperature, units: Units) -> String {
        let celsius = temperature.in_celsius();
        match units.of(Quantity::Temperature) {
            System::Metric => self.celsius(&decimal(celsius, 0)),
            System::Us => self.fahrenheit(&decimal(celsius * 9.0 / 5.0 + 32.0, 0)),
        }
    }

    /// A speed limit.
    pub fn speed(&self, speed: KilometresPerHour, units: Units) -> String {
        match units.of(Quantity::Speed) {
            System::Metric => self.kilometres_per_hour(&speed.0.to_string()),
            System::Us => self.miles_per_hour(&decimal(f64::from(speed.0) / MILE_KM, 0)),
        }
    }

    /// A distance along the road: 4.2 km, 2.5 mi.
    pub fn distance(&self, distance: Distance, units: Units) -> String {
        let km = distance.in_kilometres();
        match units.of(Quantity::Road) {
            System::Metric => self.kilometres(&decimal(km, 2)),
            System::Us => self.miles(&decimal(km / MILE_KM, 2)),
        }
    }

    /// A speed at which work gets done: 7.5 km/h, 2.3 mph.
    pub fn working_speed(&self, speed: Speed, units: Units) -> String {
        let kmh = speed.in_kilometres_per_hour();
        match units.of(Quantity::Speed) {
            System::Metric => self.kilometres_per_hour(&decimal(kmh, 1)),
            System::Us => self.miles_per_hour(&decimal(kmh / MILE_KM, 1)),
        }
    }

    /// An area: 24000 m², 28704 yd².
    pub fn area(&self, square_metres: f64, units: Units) -> String {
        match units.of(Quantity::Road) {
            System::Metric => self.square_metres(&decimal(square_metres, 0)),
            System::Us => self.square_yards(&decimal(square_metres / SQUARE_YARD_M2, 0)),
        }
    }

    /// Hours with a tenth: 7.5 h.
    pub fn hours_with_tenths(&self, hours: f64) -> String {
        self.hours_plain(&decimal(hours, 1))
    }

    /// An angle in whole degrees.
    pub fn angle(&self, angle: Angle) -> String {
        self.degrees(&decimal(angle.in_degrees(), 0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::english;

    #[test]
    fn a_number_is_read_with_comma_or_point_and_letters_are_not() {
        assert_eq!(parse_thousandths("3.66"), Some(3660));
        assert_eq!(parse_thousandths(" 3,66 "), Some(3660));
        assert_eq!(parse_thousandths("0"), Some(0));
        assert_eq!(parse_thousandths("-12.5"), Some(-12_500));
        for bad in [
            "",
            "twelve",
            "3.6.6",
            "3.6666",
            "1e3",
            "12 ft",
            "٣",
            "9999999999",
            ".",
            "-",
        ] {
            assert_eq!(parse_thousandths(bad), None, "{bad}");
        }
    }

    #[test]
    fn numbers_carry_no_more_places_than_they_need() {
        for (value, places, shown) in [
            (3.6576, 2, "3.66"),
            (12.0, 1, "12"),
            (0.05, 2, "0.05"),
            (-0.4, 0, "0"),
            (-20.0, 0, "−20"),
            (914.4, 1, "914.4"),
        ] {
            assert_eq!(decimal(value, places), shown);
        }
    }

    #[test]
    fn a_number_is_shown_with_the_mark_of_the_language_and_read_back() {
        set_decimal_mark(',');
        let shown = decimal(-3.6576, 2);
        set_decimal_mark('.');
        assert_eq!(shown, "−3,66");
        assert_eq!(parse_shown(&shown), Some(-3660));
    }

    /// An inch is 25.4 mm: a sixteenth of it is 1.5875 mm.
    #[test]
    fn a_tip_in_inches_is_told_and_stepped_in_sixteenths_and_comes_back_as_it_was() {
        let words = english();
        for (um, shown) in [
            (0, "0 in"),
            (1_588, "1/16 in"),
            (14_288, "9/16 in"),
            (19_050, "3/4 in"),
            (25_400, "1 in"),
            (34_925, "1 3/8 in"),
        ] {
            assert_eq!(words.tip(Length::micrometres(um), Units::US), shown);
        }
        let mut tip = Length::ZERO;
        for count in 1..=64 {
            tip = tip_stepped(tip, true, Units::US);
            assert_eq!(sixteenths_in(tip), count);
            let exact = f64::from(INCH_UM) * count as f64 / 16.0;
            assert!((f64::from(tip.in_micrometres()) - exact).abs() <= 0.5);
        }
        for count in (0..64).rev() {
            tip = tip_stepped(tip, false, Units::US);
            assert_eq!(sixteenths_in(tip), count);
        }
        assert_eq!(tip, tip_stepped(tip, false, Units::US));
    }

    #[test]
    fn a_tip_in_millimetres_is_stepped_onto_the_half_millimetres_of_a_rule() {
        let up = |um| tip_stepped(Length::micrometres(um), true, Units::METRIC).in_micrometres();
        assert_eq!(
            (up(14_000), up(14_288), up(14_100)),
            (14_500, 15_000, 14_500)
        );
        let down = tip_stepped(Length::micrometres(14_000), false, Units::METRIC);
        assert_eq!(down.in_micrometres(), 13_500);
    }

    /// Identities: an inch is 25.4 mm.
    #[test]
    fn a_tape_is_read_in_millimetres_or_in_inches_and_fractions_and_shown_to_the_sixteenth() {
        let mm = |typed, units| parse_tape(typed, units).map(Length::in_micrometres);
        assert_eq!(mm("1829", Units::METRIC), Some(1_829_000));
        assert_eq!(mm("238.4", Units::METRIC), Some(238_400));
        for (typed, um) in [
            ("72", 1_828_800),
            ("72 1/16", 1_830_387),
            ("1/2", 12_700),
            ("72.5", 1_841_500),
        ] {
            assert_eq!(mm(typed, Units::US), Some(um), "{typed}");
        }
        for bad in [
            "", "six", "72 6", "72 1/0", "72 17/16", "-3", "1//2", "9999999",
        ] {
            assert_eq!(mm(bad, Units::US), None, "{bad}");
        }
        assert_eq!(mm("9999999", Units::METRIC), None);
        for (um, shown) in [
            (0, "0 in"),
            (1_588, "1/16 in"),
            (1_830_387, "72 1/16 in"),
            (1_841_500, "72 1/2 in"),
            (1_854_100, "73 in"),
            (1_854_000, "73 in"),
        ] {
            let length = Length::micrometres(um);
            assert_eq!(english().tape(length, Units::US), shown);
        }
        let length = Length::micrometres(1_828_800);
        assert_eq!(english().tape(length, Units::METRIC), "1829 mm");
    }

    #[test]
    fn every_fraction_of_an_inch_up_to_six_feet_comes_back_as_it_was_typed() {
        for under in [2, 4, 8, 16, 32, 64] {
            for count in 1..=72 * under {
                let typed = fraction(count, under);
                let length = parse_tape(&typed, Units::US).unwrap();
                assert_eq!(tape_typed(length, Units::US), typed);
            }
        }
        for count in 0..=72 * 1000 {
            let length = parse_tape(&thousandths(count), Units::US).unwrap();
            let again = parse_tape(&tape_typed(length, Units::US), Units::US);
            // The half of 1/16 is rounded off in a fraction, and not in its decimal.
            assert!(
                again
                    .unwrap()
                    .in_micrometres()
                    .abs_diff(length.in_micrometres())
                    <= 1
            );
        }
    }

    #[test]
    fn every_tenth_of_a_millimetre_up_to_eight_metres_comes_back_as_it_was_typed() {
        for tenths in 0..=80_000 {
            let typed = thousandths(tenths * 100);
            let length = parse_tape(&typed, Units::METRIC).unwrap();
            assert_eq!(
                length.in_micrometres(),
                u32::try_from(tenths * 100).unwrap()
            );
            assert_eq!(tape_typed(length, Units::METRIC), typed);
        }
    }

    /// Records keep whole grams.
    #[test]
    fn every_tenth_of_a_pound_and_of_a_kilogram_comes_back_as_it_was_typed() {
        for units in [Units::METRIC, Units::US] {
            for tenths in 0..=300_000 {
                let typed = thousandths(tenths * 100);
                let mass = parse_mass(&typed, units).unwrap();
                let kept = Mass::kilograms((mass.in_kilograms() * 1000.0).round() / 1000.0);
                assert_eq!(mass_typed(kept.unwrap(), units), typed);
            }
        }
    }

    #[test]
    fn sixteen_taps_on_a_plate_are_an_inch_and_ten_a_millimetre() {
        for (units, taps, um) in [(Units::US, 16, INCH_UM), (Units::METRIC, 10, 1000)] {
            let plate = FOOT.times(3);
            let after = (0..taps).fold(plate, |plate, _| made_stepped(plate, true, units));
            assert_eq!(after.in_micrometres(), plate.in_micrometres() + um);
            let back = (0..taps).fold(after, |plate, _| made_stepped(plate, false, units));
            assert_eq!(back.in_micrometres(), plate.in_micrometres());
        }
    }

    /// Tips in millimetres on roads in miles.
    #[test]
    fn each_quantity_is_told_in_its_own_system() {
        let units = Units::US.with(Quantity::Tape, System::Metric);
        let words = english();
        assert_eq!(words.tip(Length::micrometres(14_500), units), "14.5 mm");
        assert_eq!(words.width(FOOT.times(12), units), "12 ft");
        assert_eq!(words.speed(KilometresPerHour(8), units), "5 mph");
        assert_eq!(words.units_told(units), words.units_mixed());
    }

    /// Identities: 9000 lb are 4082.331 kg; 15,000 lbf are 66.72 kN.
    #[test]
    fn both_unit_systems_tell_the_same_mass_and_force() {
        let mass = parse_mass("9000", Units::US).unwrap();
        assert_eq!(english().mass(mass, Units::METRIC), "4082 kg");
        assert_eq!(english().mass(mass, Units::US), "9000 lb");
        assert_eq!(parse_mass("heavy", Units::METRIC), None);
        let force = Force::kilonewtons(66.7233).unwrap();
        assert_eq!(english().force(force, Units::US), "15000 lbf");
        assert_eq!(english().force(force, Units::METRIC), "67 kN");
        let force = Force::kilonewtons(0.6950).unwrap();
        assert_eq!(english().force(force, Units::METRIC), "0.7 kN");
    }

    /// Identities: 12 ft are 3.6576 m; 15 °C are 59 °F; 8 km/h are 4.97 mph.
    #[test]
    fn both_unit_systems_tell_the_same_length_temperature_and_speed() {
        let words = english();
        assert_eq!(words.width(FOOT.times(12), Units::METRIC), "3.66 m");
        assert_eq!(words.width(FOOT.times(12), Units::US), "12 ft");
        assert_eq!(
            words.temperature(Temperature::whole_celsius(15), Units::US),
            "59 °F"
        );
        assert_eq!(words.speed(KilometresPerHour(8), Units::US), "5 mph");
        let five_miles = Distance::kilometres(8.046_72).unwrap();
        assert_eq!(words.distance(five_miles, Units::US), "5 mi");
        assert_eq!(words.distance(five_miles, Units::METRIC), "8.05 km");
        let speed = Speed::kilometres_per_hour(3.701_491).unwrap();
        assert_eq!(words.working_speed(speed, Units::US), "2.3 mph");
    }
}

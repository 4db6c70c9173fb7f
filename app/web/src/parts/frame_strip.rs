//! The strip with the marks for the frame, at true scale on sheets of paper: a millimetre on the sheet is a millimetre on
//! the frame. Cut out, joined where the letters meet, and taped on. A bar of 100 mm tells whether the printer kept to the
//! scale.
//!
//! Never here: where the marks are (`evenrow_rules::marks`).

use leptos::prelude::*;

/// How much of the strip one sheet holds, in millimetres: what fits on the smaller of the two usual papers, with its
/// heading.
const PIECE: f64 = 190.0;

/// What the strip has before the first mark and after the last, in millimetres: to hold it by.
const SPARE: f64 = 10.0;

/// The sheet is 180 mm wide and 200 high; a piece of the strip begins so far below its upper edge.
const TOP: f64 = 5.0;

/// The strip's sides, and how far a mark reaches.
const LEFT: f64 = 5.0;
const RIGHT: f64 = 55.0;
const MARK_ENDS: f64 = 30.0;

/// The check bar: where it stands and how long it is.
const BAR_AT: f64 = 90.0;
const BAR: f64 = 100.0;

/// A mark of the strip.
#[derive(Clone, Debug, PartialEq)]
pub struct StripMark {
    /// How far from the first, along the curve, in millimetres.
    pub arc: f64,
    /// Its angle in words.
    pub label: String,
}

/// The strip in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripView {
    /// Whose it is and what it marks; a line each.
    pub heading: Vec<String>,
    /// The marks in order.
    pub marks: Vec<StripMark>,
    /// What the bar says.
    pub bar: String,
}

/// One sheet: what of the strip is on it.
#[derive(Clone, Debug, Default, PartialEq)]
struct Sheet {
    /// How long its piece of the strip is.
    length: f64,
    /// The marks with their place on the sheet.
    marks: Vec<(f64, String)>,
    /// The letters at the joints above and below.
    joints: (Option<char>, Option<char>),
}

/// The sheets that the marks take.
fn sheets(marks: &[StripMark]) -> Vec<Sheet> {
    let Some(last) = marks.last() else {
        return Vec::new();
    };
    let total = last.arc + 2.0 * SPARE;
    let count = (total / PIECE).ceil().max(1.0) as usize;
    let letter = |joint: usize| Some(char::from(b'A' + (joint % 26) as u8));
    (0..count)
        .map(|sheet| {
            let from = sheet as f64 * PIECE;
            let length = (total - from).min(PIECE);
            let on_it = marks.iter().filter_map(|mark| {
                let at = mark.arc + SPARE - from;
                // What lies on a joint is on both sheets.
                (0.0..=length)
                    .contains(&at)
                    .then(|| (TOP + at, mark.label.clone()))
            });
            Sheet {
                length,
                marks: on_it.collect(),
                joints: (
                    sheet.checked_sub(1).and_then(letter),
                    (sheet + 1 < count).then(|| letter(sheet)).flatten(),
                ),
            }
        })
        .collect()
}

/// A number of millimetres as a drawing has it, to a hundredth.
fn mm(value: f64) -> String {
    let hundredths = (value * 100.0).round() as i64;
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// The sheets, only on paper.
#[component]
pub fn FrameStrip(
    /// In words.
    #[prop(into)]
    shown: Signal<StripView>,
    /// Which sheet of how many, in words.
    place: Callback<(usize, usize), String>,
) -> impl IntoView {
    move || {
        let StripView {
            heading,
            marks,
            bar,
        } = shown.get();
        let sheets = sheets(&marks);
        let count = sheets.len();
        let sheet = move |(at, sheet): (usize, Sheet)| {
            let lines = heading
                .clone()
                .into_iter()
                .chain([place.run((at + 1, count))]);
            view! {
                <figure class="frame-sheet">
                    <figcaption>{lines.map(|line| view! { <p>{line}</p> }).collect_view()}</figcaption>
                    {drawing(&sheet, bar.clone())}
                </figure>
            }
        };
        view! { <div class="frame-strip">{sheets.into_iter().enumerate().map(sheet).collect_view()}</div> }
    }
}

fn drawing(sheet: &Sheet, bar: String) -> impl IntoView + use<> {
    let bottom = TOP + sheet.length;
    let outline = format!(
        "M{LEFT} {TOP}H{RIGHT}V{bottom}H{LEFT}z",
        bottom = mm(bottom)
    );
    let mark = |(at, label): &(f64, String)| {
        let line = format!("M{LEFT} {}H{MARK_ENDS}", mm(*at));
        view! {
            <path class="frame-mark" d=line></path>
            <text class="frame-label" x="33" y=mm(at + 2.0)>{label.clone()}</text>
        }
    };
    let joint = |letter: Option<char>, at: f64, inside: f64| {
        letter.map(|letter| {
            let arrow = format!("M{RIGHT} {}l6 -3v6z", mm(at));
            view! {
                <path class="frame-joint" d=arrow></path>
                <text class="frame-label" x="63" y=mm(at + inside)>{letter.to_string()}</text>
            }
        })
    };
    let check = format!(
        "M{BAR_AT} {TOP}v{BAR}M{from} {TOP}h8M{from} {end}h8",
        from = BAR_AT - 4.0,
        end = TOP + BAR
    );
    view! {
        <svg class="frame-drawing" viewBox="0 0 180 200" aria-hidden="true">
            <path class="frame-outline" d=outline></path>
            {sheet.marks.iter().map(mark).collect_view()}
            {joint(sheet.joints.0, TOP, 5.0)}
            {joint(sheet.joints.1, bottom, -1.0)}
            <path class="frame-check" d=check></path>
            <text class="frame-label" x="97" y="57">{bar}</text>
        </svg>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(arcs: &[f64]) -> Vec<StripMark> {
        let mark = |(at, &arc): (usize, &f64)| StripMark {
            arc,
            label: format!("{}°", 45 + 5 * at),
        };
        arcs.iter().enumerate().map(mark).collect()
    }

    #[test]
    fn a_short_strip_is_one_sheet_without_a_joint() {
        let sheets = sheets(&marks(&[0.0, 50.0, 100.0]));
        assert_eq!(sheets.len(), 1);
        let places: Vec<f64> = sheets[0].marks.iter().map(|(at, _)| *at).collect();
        assert_eq!(places, [15.0, 65.0, 115.0]);
        assert_eq!(sheets[0].joints, (None, None));
    }

    #[test]
    fn a_long_strip_goes_on_where_the_letters_meet() {
        let arcs: Vec<f64> = (0..=6).map(|at| f64::from(at) * 70.0).collect();
        let sheets = sheets(&marks(&arcs));
        assert_eq!(sheets.len(), 3);
        let joints: Vec<_> = sheets.iter().map(|it| it.joints).collect();
        let expected = [(None, Some('A')), (Some('A'), Some('B')), (Some('B'), None)];
        assert_eq!(joints, expected);
        // Laid end to end the pieces are the strip, and each mark is where it was.
        let mut from = 0.0;
        let mut found = Vec::new();
        for sheet in &sheets {
            found.extend(sheet.marks.iter().map(|(at, _)| at - TOP + from - SPARE));
            from += sheet.length;
        }
        assert_eq!(found, arcs);
        assert!((from - (420.0 + 2.0 * SPARE)).abs() < 1e-9);
    }

    #[test]
    fn a_mark_on_a_joint_stands_on_both_sheets() {
        let sheets = sheets(&marks(&[0.0, PIECE - SPARE, 2.0 * PIECE - 2.0 * SPARE]));
        let places = |sheet: usize| sheets[sheet].marks.iter().map(|(at, _)| *at);
        assert_eq!(places(0).next_back(), Some(TOP + PIECE));
        assert_eq!(places(1).next(), Some(TOP));
    }

    #[test]
    fn no_marks_take_no_paper() {
        assert_eq!(sheets(&[]), []);
    }
}

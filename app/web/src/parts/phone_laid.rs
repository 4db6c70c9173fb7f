//! How the phone is to be laid: on the road in front of the plate, on the plate, or across the road. Seen aslant from
//! above, so that its long edge shows square to the moldboard. Drawn from the angle; the arrow points to the phone's top.

use evenrow_rules::angle::Angle;
use leptos::prelude::*;

/// Where the phone lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Laid {
    /// On the road in front of a plate that stands at this angle.
    Road(Angle),
    /// On the plate.
    Plate(Angle),
    /// Across a road that falls to both sides; turned end for end or not.
    Across {
        /// Whether its top points the other way.
        turned: bool,
    },
}

/// A point: towards the moldboard, along it, and up.
type Point = (f64, f64, f64);

/// How wide the plate and the phone are drawn along the moldboard, on a sheet of 200 by 150.
const PLATE: (f64, f64) = (0.0, 84.0);
const PHONE: (f64, f64) = (22.0, 62.0);

/// How far from the road the plate begins, above the teeth.
const SOCKETS: f64 = 14.0;

/// How long the phone is drawn.
const LENGTH: f64 = 68.0;

/// Half the width of the road, and how high its crown is drawn.
const HALF: f64 = 76.0;
const CROWN: f64 = 14.0;

/// The point of the sheet: along the moldboard goes to the left and up, so that the front of the plate is seen.
fn at((towards, along, up): Point) -> String {
    let (x, y) = (112.0 + towards - 0.42 * along, 142.0 - up - 0.4 * along);
    format!("{} {}", x.round() as i64, y.round() as i64)
}

fn outline(points: &[Point]) -> String {
    let all: Vec<String> = points.iter().map(|&point| at(point)).collect();
    format!("M{}z", all.join("L"))
}

/// A face that rises at an angle, from one distance to another along it.
fn face(angle: Angle, start: f64, from: f64, to: f64, (near, far): (f64, f64)) -> [Point; 4] {
    let point = |distance: f64, along| {
        (
            start + distance * angle.cosine(),
            along,
            distance * angle.sine(),
        )
    };
    [
        point(from, near),
        point(to, near),
        point(to, far),
        point(from, far),
    ]
}

/// The picture. It decorates: the caption says the same in words.
#[component]
pub fn PhoneLaid(
    /// Where.
    laid: Laid,
) -> impl IntoView {
    let level = Angle::whole_degrees(0);
    // A road is low: no more of the sheet is shown than is drawn on.
    let sheet = match laid {
        Laid::Road(_) | Laid::Plate(_) => "0 26 200 124",
        Laid::Across { .. } => "0 82 200 68",
    };
    let (ground, steel, phone) = match laid {
        Laid::Road(plate) | Laid::Plate(plate) => {
            let teeth = (0..4).map(|tooth| {
                let along = 10.5 + 21.0 * f64::from(tooth);
                let [foot, top, ..] = face(plate, 20.0, 0.0, SOCKETS, (along, along));
                format!("M{}L{}", at(foot), at(top))
            });
            let steel = outline(&face(plate, 20.0, SOCKETS, 94.0, PLATE));
            let phone = if matches!(laid, Laid::Road(_)) {
                face(level, -66.0, 0.0, LENGTH, PHONE)
            } else {
                face(plate, 20.0, SOCKETS + 6.0, SOCKETS + 6.0 + LENGTH, PHONE)
            };
            let ground = outline(&face(level, -74.0, 0.0, 150.0, PLATE));
            (
                vec![ground],
                Some((steel, teeth.collect::<String>())),
                phone,
            )
        }
        Laid::Across { turned } => {
            // Steeper than any road, or nothing would show.
            let fall = |up: f64| Angle::of_sides(up, HALF).unwrap_or(level);
            let (left, right) = (fall(CROWN), fall(-CROWN));
            let half = HALF / left.cosine();
            let mut other = face(right, -74.0 + HALF, 0.0, half, PLATE);
            for point in &mut other {
                point.2 += CROWN;
            }
            let ridge = face(left, -74.0, 0.0, half, PLATE);
            let mut phone = face(left, -74.0, 4.0, 4.0 + LENGTH, PHONE);
            if turned {
                phone.rotate_left(2);
            }
            (vec![outline(&ridge), outline(&other)], None, phone)
        }
    };
    let [foot, top, top_far, foot_far] = phone;
    let between = |(a, b, c): Point, (d, e, f): Point, share: f64| {
        (
            a + (d - a) * share,
            b + (e - b) * share,
            c + (f - c) * share,
        )
    };
    let middle = |share: f64, side: f64| {
        between(
            between(foot, top, share),
            between(foot_far, top_far, share),
            side,
        )
    };
    let arrow = format!(
        "M{}L{}M{}L{}L{}",
        at(middle(0.2, 0.5)),
        at(middle(0.8, 0.5)),
        at(middle(0.6, 0.24)),
        at(middle(0.8, 0.5)),
        at(middle(0.6, 0.76)),
    );
    let edge = format!("M{}L{}", at(top), at(top_far));
    view! {
        <svg class="drawing phone-laid" viewBox=sheet aria-hidden="true">
            {ground.into_iter().map(|d| view! { <path class="drawing-road" d=d></path> }).collect_view()}
            {steel.map(|(plate, teeth)| view! {
                <path class="drawing-teeth" d=teeth></path>
                <path class="drawing-plate" d=plate></path>
            })}
            <path class="drawing-phone" d=outline(&phone)></path>
            <path class="drawing-angle" d=edge></path>
            <path class="drawing-arrow" d=arrow></path>
        </svg>
    }
}

//! Our own icons: drawn on a square of 24, in one line weight, in the colour of the text. They decorate; the word beside
//! them, or the label of the button, says the same.

use leptos::prelude::*;

use super::live::drawn;

/// Which icon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A drop over a line.
    Shift,
    /// A line leaning on the ground.
    Setup,
    /// Three teeth under a plate.
    Row,
    /// A written page.
    Book,
    /// A drop.
    Drop,
    /// A tick.
    Tick,
    /// A triangle with a stroke: with care.
    Care,
    /// A crossed-out circle: do not.
    Stop,
    /// The sun.
    Sun,
    /// The moon.
    Moon,
    /// A small arrow down: there is more here.
    More,
}

impl Shape {
    /// Its drawing in a frame of 24 by 24.
    pub(super) const fn path(self) -> &'static str {
        match self {
            Shape::Shift => {
                "M12 3c2.6 3.2 4 5.4 4 7.2a4 4 0 0 1-8 0C8 8.400 9.400 6.200 12 3zM2 19h20M6 16v3M18 16v3"
            }
            Shape::Setup => "M3 20h18M7 20 19 5M14 20a8 8 0 0 0-2.300-5.600",
            Shape::Row => {
                "M3 4h18v4H3zM5 8v8l1.500 3L8 16V8M10.500 8v8l1.500 3 1.500-3V8M16 8v8l1.500 3L19 16V8"
            }
            Shape::Book => "M5 3h14v18H5zM9 8h6M9 12h6M9 16h4",
            Shape::Drop => {
                "M12 2c4.200 5.200 6.500 8.800 6.500 12a6.500 6.500 0 0 1-13 0C5.500 10.800 7.800 7.200 12 2z"
            }
            Shape::Tick => "M4 12.500 9.500 18 20 6",
            Shape::Care => "M12 3 22 20.500H2zM12 9v5.500M12 17v1",
            Shape::Stop => {
                "M12 2.500a9.500 9.500 0 1 1 0 19 9.500 9.500 0 0 1 0-19zM5.500 5.500l13 13"
            }
            Shape::Sun => {
                "M12 7.500a4.500 4.500 0 1 1 0 9 4.500 4.500 0 0 1 0-9zM12 1.500v3M12 19.500v3M1.500 12h3M19.500 12h3M4.600 4.600l2.100 2.100M17.300 17.300l2.100 2.100M4.600 19.400l2.100-2.100M17.300 6.700l2.100-2.100"
            }
            Shape::Moon => "M20 14.500A8.500 8.500 0 0 1 9.500 4a8.500 8.500 0 1 0 10.500 10.500z",
            Shape::More => "M6 9.500 12 15.500 18 9.500",
        }
    }

    const fn filled(self) -> bool {
        matches!(self, Shape::Drop)
    }
}

/// An icon as high as the text beside it.
#[component]
pub fn Icon(
    /// Which one.
    shape: Shape,
) -> impl IntoView {
    icon(shape)
}

/// The same in a place that is drawn again with it.
pub fn icon(shape: Shape) -> AnyView {
    drawn(view! {
        <svg class="icon" class:icon-filled=shape.filled() viewBox="0 0 24 24" aria-hidden="true">
            <path d=shape.path()></path>
        </svg>
    })
}

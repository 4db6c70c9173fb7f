//! The cutting angle on the steel and the crossfall of the road: the phone is laid somewhere, and a button tapped there.

use super::glass::{Glass, css};
use super::parts::{field, pick};

/// The cutting angle.
#[derive(Clone, Debug)]
pub struct CuttingAngle(pub(super) Glass);

/// The crossfall.
#[derive(Clone, Debug)]
pub struct Crossfall(pub(super) Glass);

const FINDER: &str = "main > .laying";
const TOOTH: &str = ".plate-to-tooth .laying";

impl CuttingAngle {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the screen", css("main h1"), "Cutting angle on the steel")
            .await;
    }

    /// The cautions, in order.
    pub async fn cautions(&self) -> Vec<String> {
        self.0
            .read_all("the cautions", css("main > p.caution"))
            .await
    }

    /// Taps Start, or Measure again.
    pub async fn begin(&self) {
        begin(&self.0, FINDER).await;
    }

    /// Waits until it wants the phone laid here, and taps that it lies there.
    pub async fn lies(&self, place: &str) {
        lies(&self.0, place).await;
    }

    /// Waits until this place is asked for.
    pub async fn see_place(&self, place: &str) {
        see_place(&self.0, place).await;
    }

    /// Whether it says that the phone is not steady, and what to do as it does not come to rest.
    pub async fn is_restless(&self) -> bool {
        let at = css(".steadiness[data-steady='false'] ~ .laying-restless");
        0 < self.0.count("the advice", at).await
    }

    /// Whether it has been measured by the phone.
    pub async fn is_measured(&self) -> bool {
        let at = css(".angle-result .measured");
        0 < self.0.count("a result", at).await
    }

    /// Breaks off and starts again.
    pub async fn start_again(&self) {
        self.0
            .tap("Measure again", css("main > .laying button.laying-stop"))
            .await;
    }

    /// Waits until it says why there are no readings.
    pub async fn see_numb(&self, sentence: &str) {
        self.0
            .see("the sensor", css(".laying-numb"), sentence)
            .await;
    }

    /// Waits until it says what the phone measured.
    pub async fn see_measured(&self, text: &str) {
        see_measured(&self.0, text).await;
    }

    /// Waits until it says how that stands to the target.
    pub async fn see_compared(&self, text: &str) {
        see_compared(&self.0, text).await;
    }

    /// Waits until it says why it was refused.
    pub async fn see_refused(&self, sentence: &str) {
        see_refused(&self.0, sentence).await;
    }

    /// Waits until nothing measured by the phone is shown.
    pub async fn see_nothing_measured(&self) {
        self.0
            .see_none("a result", css(".angle-result .measured"))
            .await;
    }

    /// Waits until this is what it compares with.
    pub async fn see_target(&self, text: &str) {
        self.0.see("the target", css(".target"), text).await;
    }

    /// Compares with the sheet of another work.
    pub async fn compare_with(&self, work: &str) {
        compare_with(&self.0, work).await;
    }

    /// Types rise and run off a tape.
    pub async fn tape(&self, rise: (&str, &str), run: (&str, &str)) {
        for (label, typed) in [rise, run] {
            self.0.type_over(label, field(label), typed).await;
        }
    }

    /// What stands in the field with this label.
    pub async fn typed(&self, label: &str) -> String {
        self.0.value(label, field(label)).await
    }

    /// Waits until it says what the tape gives.
    pub async fn see_by_tape(&self, text: &str) {
        self.0.see("the tape", css(".tape-result"), text).await;
    }

    /// Unfolds how the teeth stand to their plates.
    pub async fn unfold_plate_to_tooth(&self) {
        self.0
            .unfold("From plate to tooth", css(".plate-to-tooth"))
            .await;
    }

    /// Waits until it says what is kept of it.
    pub async fn see_plate_to_tooth(&self, sentence: &str) {
        self.0
            .see("what is kept", css(".plate-to-tooth-is"), sentence)
            .await;
    }

    /// Taps that the phone lies along a tooth.
    pub async fn lies_along_a_tooth(&self) {
        begin(&self.0, TOOTH).await;
    }

    /// Waits until it says how the tooth stands, and keeps it.
    pub async fn keep_plate_to_tooth(&self, sentence: &str) {
        self.0
            .see("the difference", css(".plate-to-tooth-found"), sentence)
            .await;
        self.0
            .tap("Keep this", css("button.keep-plate-to-tooth"))
            .await;
    }
}

impl Crossfall {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the screen", css("main h1"), "Crossfall of the road")
            .await;
    }

    /// Taps Start, or Measure again.
    pub async fn begin(&self) {
        begin(&self.0, FINDER).await;
    }

    /// Waits until it wants the phone laid here, and taps that it lies there.
    pub async fn lies(&self, place: &str) {
        lies(&self.0, place).await;
    }

    /// Waits until this place is asked for.
    pub async fn see_place(&self, place: &str) {
        see_place(&self.0, place).await;
    }

    /// Waits until it says what was measured.
    pub async fn see_measured(&self, text: &str) {
        see_measured(&self.0, text).await;
    }

    /// Waits until it says how that stands to what is published.
    pub async fn see_compared(&self, text: &str) {
        see_compared(&self.0, text).await;
    }

    /// Waits until it says why it was refused.
    pub async fn see_refused(&self, sentence: &str) {
        see_refused(&self.0, sentence).await;
    }

    /// Compares with another work, and waits until this is what it compares with.
    pub async fn compare_with(&self, work: &str, target: &str) {
        compare_with(&self.0, work).await;
        self.0.see("the target", css(".target"), target).await;
    }

    /// What the target rests on.
    pub async fn bases(&self) -> Vec<String> {
        self.0
            .read_all("the bases", css(".crossfall-why .basis"))
            .await
    }
}

async fn begin(glass: &Glass, finder: &str) {
    let at = css(format!("{finder} button.laying-begin"));
    glass.tap("Start", at).await;
}

async fn see_place(glass: &Glass, place: &str) {
    glass.see("the place", css(".laying-place"), place).await;
    glass
        .see_some("the button", css("button.laying-here"))
        .await;
}

async fn lies(glass: &Glass, place: &str) {
    see_place(glass, place).await;
    glass.tap("It lies there", css("button.laying-here")).await;
}

async fn see_measured(glass: &Glass, text: &str) {
    let at = css(".angle-result .measured");
    glass.see("what was measured", at, text).await;
}

async fn see_compared(glass: &Glass, text: &str) {
    let at = css(".angle-result .compared");
    glass.see("how it stands", at, text).await;
}

async fn see_refused(glass: &Glass, sentence: &str) {
    glass.see("why not", css(".angle-refused"), sentence).await;
}

async fn compare_with(glass: &Glass, work: &str) {
    glass
        .unfold("Compare with other work", css(".target-other"))
        .await;
    pick(glass, "Which work?", work).await;
}

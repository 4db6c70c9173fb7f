//! The row, its sets, its spares, and the pass with the rule.

use thirtyfour::{By, Key};

use super::glass::{Glass, css, quoted, xpath};
use super::parts::{pick, raise, see_number};

/// The screens of the row.
#[derive(Clone, Debug)]
pub struct Row(pub(super) Glass);

impl Row {
    /// Goes to the row by its tab.
    pub async fn open(&self) {
        let at = xpath("//nav//a[normalize-space()='Row']");
        self.0.tap("Row", at).await;
        self.see().await;
    }

    /// Waits until the row is shown.
    pub async fn see(&self) {
        self.0.see("the row", css("main h1"), "The row").await;
    }

    /// Mounts a new set of the full row, as it is offered.
    pub async fn mount_a_new_set(&self) {
        self.0.tap("Sets of teeth", css("a.to-sets")).await;
        self.see_sets().await;
        self.0.tap("Mount it", css("button.mount-set")).await;
        self.see_line().await;
    }

    /// Waits until the whole row is drawn.
    pub async fn see_line(&self) {
        self.0.see_some("the whole row", css(".whole-row")).await;
    }

    /// What the whole row says to those who cannot see it.
    pub async fn line_told(&self) -> String {
        self.0
            .attribute("the whole row", css(".whole-row"), "aria-label")
            .await
    }

    /// Waits until the whole row says this to those who cannot see it.
    pub async fn see_line_told(&self, part: &str) {
        let awaited = format!("the whole row says {part:?}");
        self.0
            .attributes_once(&awaited, css(".whole-row"), "aria-label", |told| {
                told.iter().any(|told| told.contains(part))
            })
            .await;
    }

    /// Waits until so many plates are drawn with a plain edge.
    pub async fn see_plain_plates(&self, count: usize) {
        let awaited = format!("{count} plates are plain");
        self.0
            .read_all_once(&awaited, css(".whole-row-plain"), |found| {
                found.len() == count
            })
            .await;
    }

    /// Says that the other end leads.
    pub async fn other_end_leads(&self) {
        self.0
            .tap("the end that leads", css("button.leading-end"))
            .await;
    }

    /// Picks a plate.
    pub async fn plate(&self, number: usize) {
        let at = xpath(format!(
            "//button[contains(@class, 'plate-of-row')][{number}]"
        ));
        self.0.tap(&format!("plate {number}"), at).await;
        let title = format!("Plate {number}");
        self.0.see("the plate", css("main h2"), &title).await;
    }

    /// Picks a tooth of the plate that is shown.
    pub async fn tooth(&self, place: usize) {
        self.0.tap(&format!("tooth {place}"), cell(place)).await;
        self.see_opened(place).await;
    }

    /// Waits until what belongs to a tooth has opened.
    pub async fn see_opened(&self, place: usize) {
        let title = format!("tooth {place}");
        self.0
            .read_once(&title, css(".one-tooth h3"), |shown| {
                shown.ends_with(&title)
            })
            .await;
    }

    /// Notes how the tooth is: "stuck", "broken".
    pub async fn it_is(&self, state: &str) {
        pick(&self.0, "How is it?", state).await;
    }

    /// Waits until a tooth of the plate that is shown is told so: "plate 2, tooth 5, stuck, 14 mm".
    pub async fn see_tooth(&self, place: usize, told: &str) {
        let awaited = format!("tooth {place} is told {told:?}");
        let at = format!(".tooth-cell[data-cell='{}'] .unseen", place - 1);
        self.0
            .texts_once(&awaited, &at, |shown| shown == [told])
            .await;
    }

    /// Takes the spare that is offered.
    pub async fn replace(&self) {
        self.0.tap("Replace it", css("button.replace")).await;
    }

    /// Waits until this spare is offered.
    pub async fn see_offer(&self, offer: &str) {
        self.0
            .see("the spare offered", css("button.replace"), offer)
            .await;
    }

    /// Waits until it says what to do without a spare.
    pub async fn see_no_spare(&self, sentence: &str) {
        self.0.see("no spare", css(".no-spare"), sentence).await;
    }

    /// Raises the tip of the tooth by steps of the rule.
    pub async fn longer_tip(&self, steps: usize) {
        raise(&self.0, "Tip length", steps).await;
    }

    /// Lowers the tip of the tooth by steps of the rule.
    pub async fn shorter_tip(&self, steps: usize) {
        super::parts::lower(&self.0, "Tip length", steps).await;
    }

    /// Waits until the tip is shown so.
    pub async fn see_tip(&self, tip: &str) {
        see_number(&self.0, "Tip length", tip).await;
    }

    /// Keeps the tip.
    pub async fn keep_tip(&self) {
        self.0.tap("Keep the tip", css("button.keep-tip")).await;
    }

    /// All of the row turn.
    pub async fn all_turning(&self) {
        self.0
            .tap("All turning", css("button.row-all-turning"))
            .await;
    }

    /// What was noted is what was found; the others turn.
    pub async fn others_turn(&self) {
        self.0
            .tap("The others turn", css("button.row-others-turn"))
            .await;
    }

    /// Waits until an answer says this: "change", "life", "even", "turning", "spares", "half".
    pub async fn see_answer(&self, which: &str, sentence: &str) {
        let at = css(format!(".answer-{which}"));
        self.0
            .see(&format!("the answer {which}"), at, sentence)
            .await;
    }

    /// An answer.
    pub async fn answer(&self, which: &str) -> String {
        let at = css(format!(".answer-{which}"));
        self.0.read(&format!("the answer {which}"), at).await
    }

    /// Waits until all pictures of the answers are there: life, evenness, turning.
    pub async fn see_all_pictures(&self) {
        for picture in [".life-bar", ".row-profile", ".turning-chart"] {
            self.0.see_some(picture, css(picture)).await;
        }
    }

    /// Says how many days longer a delivery takes.
    pub async fn later_delivery(&self, days: usize) {
        raise(&self.0, "A delivery takes", days).await;
    }

    /// Goes to the spares.
    pub async fn to_spares(&self) {
        self.0.tap("Spares", css(".pair a.to-stock")).await;
        self.0.see("the spares", css("main h1"), "Spares").await;
    }

    /// Adds so many spares of the kind and length that are offered, to one that is counted already.
    pub async fn add_spares(&self, count: usize) {
        raise(&self.0, "How many", count - 1).await;
        self.0.tap("Add them", css("button.add-spares")).await;
    }

    /// Sets the tip of the spares to be added, by steps down from a new one.
    pub async fn spares_shorter(&self, steps: usize) {
        super::parts::lower(&self.0, "Tip length", steps).await;
    }

    /// Waits until so many spares of a kind are counted: "wide flange, pointed, 20 mm".
    pub async fn see_spares(&self, kind: &str, count: &str) {
        see_number(&self.0, kind, count).await;
    }

    /// Waits until it says that no spare is counted.
    pub async fn see_no_spares(&self) {
        let at = css(".stock-empty");
        self.0
            .see("the empty box", at, "No spare is counted yet.")
            .await;
    }

    /// Corrects the count of a kind of spares downwards.
    pub async fn fewer_spares(&self, kind: &str, count: usize) {
        super::parts::lower(&self.0, kind, count).await;
    }

    /// Goes from here back to the row.
    pub async fn back(&self) {
        let at = xpath("//a[normalize-space()='Back to the row']");
        self.0.tap("Back to the row", at).await;
        self.see().await;
    }

    /// Goes to the sets.
    pub async fn to_sets(&self) {
        self.0.tap("Sets of teeth", css(".pair a.to-sets")).await;
        self.see_sets().await;
    }

    /// Waits until the sets are shown.
    pub async fn see_sets(&self) {
        self.0
            .see("the sets", css("main h1"), "Sets of teeth")
            .await;
    }

    /// Unfolds what is to be seen to when a set is laid up.
    pub async fn unfold_laying_up(&self) {
        self.0
            .tap("Take it off and store it", css(".laying-up > summary"))
            .await;
    }

    /// Ticks something when a set is laid up.
    pub async fn tick(&self, item: &str) {
        let at = xpath(format!(
            "//details[@open]//button[@role='checkbox'][contains(., {})]",
            quoted(item)
        ));
        self.0.tap(item, at).await;
    }

    /// Says that the set is stored.
    pub async fn it_is_stored(&self) {
        self.0.tap("It is stored", css("button.store-set")).await;
    }

    /// Waits until a set in store shows what was done when it was laid up.
    pub async fn see_laid_up(&self, item: &str) {
        self.0.see("what was done", css(".laid-up"), item).await;
    }

    /// Waits until a set on the list says this.
    pub async fn see_set(&self, part: &str) {
        let awaited = format!("a set says {part:?}");
        self.0
            .read_all_once(&awaited, css(".one-set"), |shown| {
                shown.iter().any(|shown| shown.contains(part))
            })
            .await;
    }

    /// Mounts the set in store again.
    pub async fn put_back(&self) {
        self.0
            .tap("Mount it on this machine", css("button.put-back-set"))
            .await;
        self.see_line().await;
    }

    /// Makes the teeth of the set in store spares.
    pub async fn make_spares(&self) {
        self.0
            .tap("Make its teeth spares", css("button.make-spares"))
            .await;
    }

    /// Mounts another set, as it is offered.
    pub async fn mount_another(&self) {
        self.0.tap("Mount it", css("button.mount-set")).await;
        self.see_line().await;
    }

    /// Goes to the pass with the rule, over every so manieth tooth.
    pub async fn measure_every(&self, nth: &str) {
        self.0.tap("Measure tips", css("a.to-measure")).await;
        self.0.see("the pass", css("main h1"), "Measure tips").await;
        pick(&self.0, "Which teeth?", nth).await;
    }

    /// Waits until this tooth is the one to be measured.
    pub async fn see_measured_tooth(&self, tooth: &str) {
        self.0
            .see("the tooth to measure", css(".measure-at"), tooth)
            .await;
    }

    /// Takes the tip as it is shown and goes on.
    pub async fn next_tooth(&self) {
        self.0.tap("Next tooth", css("button.measure-next")).await;
    }

    /// Goes over all teeth that are left, each as long as the one before.
    pub async fn measure_the_rest(&self, count: usize) {
        for _ in 0..count {
            self.next_tooth().await;
        }
        self.0
            .see_none("a tooth to measure", css(".measure-at"))
            .await;
    }

    /// Keeps what was measured.
    pub async fn keep_pass(&self) {
        self.0.tap("Keep these", css("button.measure-keep")).await;
        self.see_line().await;
    }

    /// Writes a note on the set.
    pub async fn note(&self, text: &str) {
        self.0.tap("Note on this set", css("a.to-row-note")).await;
        self.0
            .type_over("the note", css("textarea.note-text"), text)
            .await;
        self.0.tap("Keep", css("button.keep")).await;
        self.see().await;
    }

    /// How many teeth stand in the first line of the grid, and how wide and high the first is.
    pub async fn grid(&self) -> (usize, f64, f64) {
        let script = "
            const cells = [...document.querySelectorAll('.tooth-cell')].map((it) => it.getBoundingClientRect());
            const line = cells.filter((it) => it.top === cells[0].top).length;
            return [line, cells[0].width, cells[0].height];";
        let found = self
            .0
            .script("the grid", script, super::glass::nothing())
            .await;
        let number = |at: usize| found[at].as_f64().unwrap_or_default();
        (number(0) as usize, number(1), number(2))
    }

    /// Whether what has opened for the tooth is in sight without scrolling, wholly below the tooth.
    pub async fn opened_is_below_its_tooth(&self) -> bool {
        let script = "
            const tooth = document.querySelector('.tooth-cell[aria-selected=true]').getBoundingClientRect();
            const opened = document.querySelector('.tooth-opened').getBoundingClientRect();
            return opened.top >= tooth.bottom - 1 && opened.top - tooth.bottom < 40;";
        let found = self
            .0
            .script("what has opened", script, super::glass::nothing())
            .await;
        found == true
    }

    /// Moves the focus with Tab to the first thing that is this.
    pub async fn tab_to(&self, what: &str, selector: &str) {
        self.0.tab_to(what, selector).await;
    }

    /// Tabs to the plate of this number and presses it.
    pub async fn plate_by_keyboard(&self, number: usize) {
        let at = format!(".plate-of-row:nth-child({number})");
        self.0.tab_to(&format!("plate {number}"), &at).await;
        self.0.press(Key::Enter).await;
    }

    /// Tabs into the grid, goes to a tooth with the arrows, and picks it.
    pub async fn tooth_by_keyboard(&self, place: usize) {
        self.0.tab_to("the teeth", ".tooth-cell").await;
        self.0.press(Key::Home).await;
        for _ in 1..place {
            self.0.press(Key::Right).await;
        }
        let at = format!(".tooth-cell[data-cell='{}']:focus", place - 1);
        self.0
            .see_some(&format!("the focus on tooth {place}"), css(at))
            .await;
        self.0.press(Key::Enter).await;
        self.see_opened(place).await;
    }

    /// Tabs on to a state and presses it: 1 for turning to 6 for gone.
    pub async fn it_is_by_keyboard(&self, state: usize) {
        let at = format!(".one-tooth .choice-option:nth-child({state})");
        self.0.tab_to("a state", &at).await;
        self.0.press(Key::Space).await;
    }

    /// Tabs on to something and presses it.
    pub async fn press_by_keyboard(&self, what: &str, selector: &str) {
        self.0.tab_to(what, selector).await;
        self.0.press(Key::Enter).await;
    }

    /// Whether the focus is still on the state that was pressed.
    pub async fn focus_is_on_a_state(&self) {
        self.0
            .see_some(
                "the focus on the state",
                css(".one-tooth .choice-option:focus"),
            )
            .await;
    }
}

fn cell(place: usize) -> By {
    css(format!(".tooth-cell[data-cell='{}']", place - 1))
}

//! The words of the trade, and how the app comes onto the home screen.

use super::glass::{Glass, css, quoted, xpath};

/// The words of the trade.
#[derive(Clone, Debug)]
pub struct TradeWords(pub(super) Glass);

impl TradeWords {
    /// Waits until all of them are shown, and gives how many there are and how many of them are drawn.
    pub async fn see_all(&self) -> (usize, usize) {
        self.0
            .see("the words", css("main h1"), "Words of the trade")
            .await;
        let told = self.0.count("a sentence", css(".term dd:not(:empty)"));
        let drawn = "const drawn = (it) => 0 < it.getBBox().width;
            return [...document.querySelectorAll('.term .drawn')].filter(drawn).length;";
        let told = told.await;
        self.0.drawn("every word is drawn", drawn, told).await;
        (told, told)
    }

    /// Asks what a word on the screen means.
    pub async fn ask(&self, word: &str) {
        let at = xpath(format!(
            "//nav[@class='asks']/a[contains(., {})]",
            quoted(word)
        ));
        self.0.tap(word, at).await;
    }

    /// Waits until just this word is explained, with its drawing.
    pub async fn see_one(&self, word: &str, sentence: &str) {
        self.0.see("the word", css("main h1"), word).await;
        self.0
            .see("its sentence", css(".term-alone p"), sentence)
            .await;
        let drawn = "const drawn = (it) => 0 < it.getBBox().width;
            return [...document.querySelectorAll('.term-alone .drawn')].filter(drawn).length;";
        self.0.drawn("it is drawn", drawn, 1).await;
    }

    /// Goes on to all of them.
    pub async fn to_all(&self) {
        self.0.tap("All words", css("a.to-terms")).await;
    }
}

/// How the app comes onto the home screen.
#[derive(Clone, Debug)]
pub struct HomeScreen(pub(super) Glass);

impl HomeScreen {
    /// Waits until it shows so many steps for the two kinds of phones, each with its drawing.
    pub async fn see_steps(&self, steps: usize) {
        let drawn = "const drawn = (it) => 0 < it.getBBox().width;
            return [...document.querySelectorAll('.install-steps .drawn')].filter(drawn).length;";
        self.0.drawn("every step is drawn", drawn, steps).await;
    }
}

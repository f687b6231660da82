//! All setups over the wood, computed beside the window so that it never waits for them.

use super::Rack;
use barpoise_core::Yard;
use barpoise_core::rack::{
    Buyable, Choice, Contender, LoopOrder, Pair, Progress, Purchase, Sureness, Thresholds, Turn, Wood,
    WorkRates, buyable, choose, contenders, loops_to_order, pairs, purchases, sensitivity,
};
use std::cell::OnceCell;
use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};

/// All setups of a yard over a wood.
#[derive(Debug)]
pub struct RackFigures {
    /// The wood.
    pub wood: Wood,
    /// Every setup, in the order of the yard.
    pub contenders: Vec<Contender>,
    /// How surely their scores are told apart; `None` until it is known.
    pub sureness: Option<Sureness>,
    /// Bars that could be bought; `None` until they are known.
    pub buyable: Option<Vec<Buyable>>,
    /// Loops to order.
    pub loops: Vec<LoopOrder>,
    /// True where wood or yard have changed since, and newer figures are under way.
    pub is_old: bool,
}

impl RackFigures {
    /// Holds everything against other thresholds.
    fn judge(&mut self, thresholds: &Thresholds) {
        for one in &mut self.contenders {
            one.fit = one.fit.judged(thresholds);
        }
        for bar in self.buyable.iter_mut().flatten() {
            bar.contender.fit = bar.contender.fit.judged(thresholds);
        }
    }
}

/// Which setup goes on, and what would turn it.
#[derive(Debug)]
pub struct Chosen {
    /// The order, and what is refused.
    pub choice: Choice,
    /// What would make another win.
    pub turns: Vec<Turn>,
    /// The two saws that serve best together, where two share the wood.
    pub pair: Option<Pair>,
    /// Bars to buy, by their places among [`RackFigures::buyable`]; `None` until those are known.
    pub purchases: Option<Vec<Purchase>>,
}

/// What figures hang on.
#[derive(Clone, Debug)]
struct Ground {
    yard: Arc<Yard>,
    wood: Wood,
    rates: WorkRates,
    thresholds: Thresholds,
}

impl Ground {
    fn has_same_work(&self, other: &Self) -> bool {
        self.wood == other.wood
            && self.rates == other.rates
            && (Arc::ptr_eq(&self.yard, &other.yard) || same_parts(&self.yard, &other.yard))
    }
}

/// Whether the same setups and bars are on the rack before the same person; with what is known of them; readings and
/// woods aside.
fn same_parts(a: &Yard, b: &Yard) -> bool {
    let (a, b) = (a.file(), b.file());
    a.powerheads == b.powerheads
        && a.bars == b.bars
        && a.chains == b.chains
        && a.setups == b.setups
        && a.person == b.person
        && a.weigh_ins == b.weigh_ins
}

#[derive(Debug)]
enum News {
    Progress(Progress),
    Contenders(Vec<Contender>, Vec<LoopOrder>),
    Sureness(Sureness),
    Buyable(Vec<Buyable>),
}

/// Work under way. Dropped, it stops after the setup that it is at.
#[derive(Debug)]
struct Job {
    news: Receiver<News>,
    stop: Arc<AtomicBool>,
    progress: Progress,
}

impl Drop for Job {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// The figures, and the work that makes newer ones.
#[derive(Debug, Default)]
pub(super) struct RackWork {
    ground: Option<Ground>,
    job: Option<Job>,
    figures: Option<RackFigures>,
    chosen: OnceCell<Option<Chosen>>,
}

impl RackWork {
    pub(super) const fn figures(&self) -> Option<&RackFigures> {
        self.figures.as_ref()
    }

    pub(super) const fn progress(&self) -> Option<Progress> {
        match &self.job {
            Some(job) => Some(job.progress),
            None => None,
        }
    }

    pub(super) fn chosen(&self, rack: &Rack) -> Option<&Chosen> {
        let choose = || {
            let figures = self.figures.as_ref()?;
            let preferences = rack.preferences();
            let sureness = figures.sureness.as_ref();
            let mut choice = choose(&figures.contenders, &preferences);
            if let Some(sureness) = sureness {
                choice = choice.told_apart(sureness, &preferences);
            }
            let turns = sensitivity(&figures.contenders, &preferences, &choice);
            let pair = self.ground.as_ref().and_then(|ground| {
                let rates = &ground.rates;
                let found = pairs(&figures.contenders, &figures.wood, rates, &preferences, &choice, sureness);
                found.into_iter().next()
            });
            let bought =
                |bars: &Vec<Buyable>| purchases(bars, &figures.contenders, &choice, &preferences, sureness);
            let purchases = figures.buyable.as_ref().map(bought);
            Some(Chosen { turns, pair, purchases, choice })
        };
        self.chosen.get_or_init(choose).as_ref()
    }

    /// The wishes changed: what was computed of the setups still holds, and is held against the thresholds anew.
    pub(super) fn choose_again(&mut self, thresholds: &Thresholds) {
        if let Some(ground) = &mut self.ground {
            ground.thresholds = *thresholds;
        }
        if let Some(figures) = &mut self.figures {
            figures.judge(thresholds);
        }
        self.chosen = OnceCell::new();
    }

    pub(super) fn tend(
        &mut self,
        yard: &Arc<Yard>,
        wood: Option<Wood>,
        rack: &Rack,
        wake: impl Fn() + Send + 'static,
    ) {
        self.take_news();
        let Some(wood) = wood else {
            *self = Self::default();
            return;
        };
        let (rates, thresholds) = (rack.rates().clone(), *rack.thresholds());
        let ground = Ground { yard: Arc::clone(yard), wood, rates, thresholds };
        let same_work = self.ground.as_ref().is_some_and(|old| old.has_same_work(&ground));
        self.ground = Some(ground.clone());
        if same_work {
            return;
        }
        if let Some(figures) = &mut self.figures {
            figures.is_old = true;
            (figures.sureness, figures.buyable) = (None, None);
        }
        self.chosen = OnceCell::new();
        self.job = start(ground, wake);
    }

    /// Waits for the end of the work.
    pub(super) fn wait(&mut self) {
        while let Some(job) = &self.job {
            let news = job.news.recv();
            self.take(news.ok());
        }
    }

    fn take_news(&mut self) {
        while let Some(job) = &self.job {
            match job.news.try_recv() {
                Ok(news) => self.take(Some(news)),
                Err(std::sync::mpsc::TryRecvError::Empty) => return,
                Err(std::sync::mpsc::TryRecvError::Disconnected) => self.take(None),
            }
        }
    }

    /// Takes one piece of news; none means that the work is over.
    fn take(&mut self, news: Option<News>) {
        match news {
            None => self.job = None,
            Some(News::Progress(progress)) => {
                if let Some(job) = &mut self.job {
                    job.progress = progress;
                }
            }
            Some(News::Contenders(contenders, loops)) => {
                let Some(ground) = &self.ground else { return };
                let wood = ground.wood.clone();
                let mut figures =
                    RackFigures { wood, contenders, sureness: None, buyable: None, loops, is_old: false };
                figures.judge(&ground.thresholds);
                self.figures = Some(figures);
                self.chosen = OnceCell::new();
            }
            Some(News::Sureness(sureness)) => {
                if let Some(figures) = &mut self.figures {
                    figures.sureness = Some(sureness);
                }
                self.chosen = OnceCell::new();
            }
            Some(News::Buyable(bars)) => {
                if let (Some(figures), Some(ground)) = (&mut self.figures, &self.ground) {
                    figures.buyable = Some(bars);
                    figures.judge(&ground.thresholds);
                }
                self.chosen = OnceCell::new();
            }
        }
    }
}

/// Begins the work beside the window; `None` where the system has no thread left for it.
fn start(ground: Ground, wake: impl Fn() + Send + 'static) -> Option<Job> {
    let (sender, news) = channel();
    let stop = Arc::new(AtomicBool::new(false));
    let stopped = Arc::clone(&stop);
    let work = move || {
        // Where nobody listens any more there is nothing left to do.
        let _ = run(&ground, &sender, &stopped, &wake);
        drop(sender);
        wake();
    };
    std::thread::Builder::new().name("rack".to_owned()).spawn(work).ok()?;
    let progress = Progress { done: 0, all: 1 };
    Some(Job { news, stop, progress })
}

fn run(ground: &Ground, sender: &Sender<News>, stop: &AtomicBool, wake: &impl Fn()) -> Option<()> {
    let tell = |news| {
        let sent = sender.send(news).is_ok() && !stop.load(Ordering::Relaxed);
        if sent {
            wake();
        }
        sent
    };
    let mut told = |progress| {
        if tell(News::Progress(progress)) { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    };
    let (rates, thresholds) = (&ground.rates, &ground.thresholds);
    let found = contenders(ground.yard.setups(), &ground.wood, rates, thresholds, &mut told)?;
    tell(News::Contenders(found.clone(), loops_to_order(&ground.yard))).then_some(())?;
    let setups = ground.yard.setups();
    let sureness = Sureness::new(&ground.yard, setups, &found, &ground.wood, rates, &mut told)?;
    tell(News::Sureness(sureness)).then_some(())?;
    let bars = buyable(&ground.yard, &ground.wood, rates, thresholds, &mut told)?;
    tell(News::Buyable(bars)).then_some(())
}

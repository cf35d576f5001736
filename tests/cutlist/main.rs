//! Parts list and rack: what is pasted, what it costs, what the planner is handed, what comes back.

mod blanks;
mod follow;
mod jobs;
mod mind;
mod order;
mod pasted;
mod prices;
mod ripped;
mod sheets;
mod stored;
mod yard;

//! The device's database: one name, a few stores of values by text keys, transactions that are whole or nothing.

use idb::{Database, DatabaseEvent, ObjectStore, Transaction, TransactionMode};
use std::cell::RefCell;
use std::rc::Rc;

const NAME: &str = "offsquare";
/// Of the stores below. A store more is one more here; older tabs then close theirs.
const SHAPE: u32 = 1;

/// What is kept of the document, each record a text (`save::records`).
pub const RECORDS: &str = "records";
/// Changes in the order in which they were kept, so that tabs follow each other.
pub const LOG: &str = "log";
/// Steps to undo.
pub const STEPS: &str = "steps";
/// How far each page's changes are kept.
pub const MARKS: &str = "marks";
/// Texts that could not be read in full, as they were.
pub const ASIDE: &str = "aside";
/// Pictures by id.
pub const PICTURES: &str = "pictures";

const STORES: [&str; 6] = [RECORDS, LOG, STEPS, MARKS, ASIDE, PICTURES];

/// Why the device keeps nothing.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// No room is left.
    Full,
    /// The browser has no database here, closed it, or another tab holds it.
    Closed,
}

impl Trouble {
    /// A plain sentence.
    pub fn words(&self) -> &'static str {
        match self {
            Trouble::Full => {
                "This device\u{2019}s storage is full: what you change now is not kept. Save a file, then free some room."
            }
            Trouble::Closed => {
                "This browser keeps nothing here (a private window, or its storage is blocked or was cleared): what you change is gone when the page closes. Save a file."
            }
        }
    }
}

impl From<idb::Error> for Trouble {
    fn from(error: idb::Error) -> Trouble {
        // The library's errors are told apart by the exception's name, which is in their text.
        match format!("{error:?}").contains("Quota") {
            true => Trouble::Full,
            false => Trouble::Closed,
        }
    }
}

thread_local! {
    static OPEN: RefCell<Option<Rc<Database>>> = const { RefCell::new(None) };
}

fn forget() {
    OPEN.with_borrow_mut(|open| {
        if let Some(database) = open.take() {
            database.close();
        }
    });
}

/// The open database; opened where it is not.
pub async fn database() -> Result<Rc<Database>, Trouble> {
    if let Some(open) = OPEN.with_borrow(Clone::clone) {
        return Ok(open);
    }
    let factory = idb::Factory::new()?;
    let mut request = factory.open(NAME, Some(SHAPE))?;
    request.on_upgrade_needed(|event| {
        let Ok(database) = event.database() else { return };
        let there = database.store_names();
        for name in STORES.iter().filter(|name| !there.iter().any(|t| t == *name)) {
            // A store that is not made fails the first transaction that names it, which is said.
            let _ = database.create_object_store(name, idb::ObjectStoreParams::new());
        }
    });
    let mut database = request.await?;
    // A newer tab wants another shape, or the browser clears the site: nothing may hold it.
    database.on_version_change(|_| forget());
    database.on_close(|_| forget());
    let database = Rc::new(database);
    OPEN.with_borrow_mut(|open| *open = Some(database.clone()));
    Ok(database)
}

/// A transaction over these stores. A database that was closed meanwhile is opened once more.
pub async fn transaction(stores: &[&str], mode: TransactionMode) -> Result<Transaction, Trouble> {
    if let Ok(begun) = database().await?.transaction(stores, mode) {
        return Ok(begun);
    }
    forget();
    Ok(database().await?.transaction(stores, mode)?)
}

/// A store of a transaction.
pub fn store(of: &Transaction, name: &str) -> Result<ObjectStore, Trouble> {
    Ok(of.object_store(name)?)
}

/// Waits until all of it is kept.
pub async fn whole(all: Transaction) -> Result<(), Trouble> {
    match all.await? {
        idb::TransactionResult::Committed => Ok(()),
        // Without an error of its own it was ended from outside, which a full disk does too.
        idb::TransactionResult::Aborted => Err(Trouble::Full),
    }
}

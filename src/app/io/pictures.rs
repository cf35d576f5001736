//! Pictures by id, beside the document, which only names them.

use super::shelf::{self, PICTURES, Trouble};
use idb::TransactionMode::{ReadOnly, ReadWrite};
use js_sys::{Object, Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

/// A picture as its file has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// `image/webp`, `image/jpeg` …
    pub mime: String,
    pub bytes: Vec<u8>,
}

/// The device's own pictures.
pub struct Device;

fn to_js(picture: &Picture) -> JsValue {
    let object = Object::new();
    // A plain object takes any member.
    let _ = Reflect::set(&object, &"mime".into(), &picture.mime.as_str().into());
    let _ = Reflect::set(&object, &"bytes".into(), &Uint8Array::from(&picture.bytes[..]).into());
    object.into()
}

fn of_js(stored: &JsValue) -> Option<Picture> {
    let mime = Reflect::get(stored, &"mime".into()).ok()?.as_string()?;
    let bytes: Uint8Array = Reflect::get(stored, &"bytes".into()).ok()?.dyn_into().ok()?;
    Some(Picture { mime, bytes: bytes.to_vec() })
}

impl Device {
    /// Kept once this is done; one of the same id is replaced.
    pub async fn put(&self, id: &str, picture: &Picture) -> Result<(), Trouble> {
        let all = shelf::transaction(&[PICTURES], ReadWrite).await?;
        shelf::store(&all, PICTURES)?.put(&to_js(picture), Some(&id.into()))?;
        shelf::whole(all).await
    }

    /// None where there is none of that id.
    pub async fn get(&self, id: &str) -> Result<Option<Picture>, Trouble> {
        let all = shelf::transaction(&[PICTURES], ReadOnly).await?;
        let found = shelf::store(&all, PICTURES)?.get(JsValue::from(id))?.await?;
        Ok(found.as_ref().and_then(of_js))
    }

    /// What is not there is removed already.
    pub async fn remove(&self, id: &str) -> Result<(), Trouble> {
        let all = shelf::transaction(&[PICTURES], ReadWrite).await?;
        shelf::store(&all, PICTURES)?.delete(JsValue::from(id))?;
        shelf::whole(all).await
    }

    /// The ids of all, in their order as texts.
    pub async fn ids(&self) -> Result<Vec<String>, Trouble> {
        let all = shelf::transaction(&[PICTURES], ReadOnly).await?;
        let keys = shelf::store(&all, PICTURES)?.get_all_keys(None, None)?.await?;
        Ok(keys.iter().filter_map(JsValue::as_string).collect())
    }
}

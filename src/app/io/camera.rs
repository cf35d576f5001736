//! A picture as it was taken or chosen, made small enough to keep, and one that is kept, painted.

use super::pictures::{Device, Picture};
use js_sys::{Function, Object, Reflect, Uint8Array};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, CanvasRenderingContext2d, HtmlCanvasElement, ImageBitmap};

/// Most bytes of a file that is looked at, and of a picture that is kept.
const MOST_TAKEN: f64 = 60e6;
const MOST_KEPT: f64 = 200e3;
/// The longer side and the quality, from the best on: the first that is small enough is kept.
const TRIES: [(f64, f64); 5] =
    [(1200.0, 0.82), (1200.0, 0.65), (900.0, 0.6), (600.0, 0.5), (400.0, 0.4)];

/// The picture as the browser decodes it, turned upright as the camera was held.
async fn decoded(blob: &Blob) -> Option<ImageBitmap> {
    let window = web_sys::window()?;
    let make: Function =
        Reflect::get(&window, &"createImageBitmap".into()).ok()?.dyn_into().ok()?;
    let how = Object::new();
    Reflect::set(&how, &"imageOrientation".into(), &"from-image".into()).ok()?;
    let making = make.call2(&window, blob, &how).ok()?;
    JsFuture::from(making.dyn_into::<js_sys::Promise>().ok()?).await.ok()?.dyn_into().ok()
}

fn brush(on: &HtmlCanvasElement) -> Option<CanvasRenderingContext2d> {
    on.get_context("2d").ok()??.dyn_into().ok()
}

/// Paints it over a canvas that gets its proportions, no side longer than `most` px.
fn paint(on: &HtmlCanvasElement, bitmap: &ImageBitmap, most: f64) -> Option<()> {
    let (wide, high) = (f64::from(bitmap.width()), f64::from(bitmap.height()));
    let scale = (most / wide.max(high)).min(1.0);
    let (wide, high) = ((wide * scale).round().max(1.0), (high * scale).round().max(1.0));
    on.set_width(wide as u32);
    on.set_height(high as u32);
    let brush = brush(on)?;
    // What can be seen through would be black.
    brush.set_fill_style_str("#fff");
    brush.fill_rect(0.0, 0.0, wide, high);
    brush.draw_image_with_image_bitmap_and_dw_and_dh(bitmap, 0.0, 0.0, wide, high).ok()
}

async fn written(canvas: &HtmlCanvasElement, mime: &str, quality: f64) -> Option<Blob> {
    let (canvas, mime) = (canvas.clone(), mime.to_owned());
    let promise = js_sys::Promise::new(&mut |resolve, reject| {
        let done = Closure::once_into_js(move |blob: JsValue| {
            // A promise of ours takes any value.
            let _ = resolve.call1(&JsValue::NULL, &blob);
        });
        let asked = canvas.to_blob_with_type_and_encoder_options(
            done.unchecked_ref(),
            &mime,
            &quality.into(),
        );
        if let Err(error) = asked {
            // As above.
            let _ = reject.call1(&JsValue::NULL, &error);
        }
    });
    let blob: Blob = JsFuture::from(promise).await.ok()?.dyn_into().ok()?;
    // A browser that cannot write one kind writes another.
    (blob.type_() == mime).then_some(blob)
}

/// Makes a chosen picture small, keeps it, and gives its id. Errors are plain sentences.
pub async fn keep(taken: &Blob) -> Result<String, String> {
    if taken.size() > MOST_TAKEN {
        return Err("This picture is too large: 60 MB is the most.".into());
    }
    let no_picture =
        "This file is no picture that this browser can read. Take a JPEG, a PNG or a WebP.";
    let bitmap = decoded(taken).await.ok_or(no_picture)?;
    let picture = small(&bitmap).await;
    bitmap.close();
    let picture = picture.ok_or(no_picture)?;
    let now = js_sys::Date::now() as u64;
    let id = format!("{now:x}-{:x}", (js_sys::Math::random() * 1e9) as u32);
    Device.put(&id, &picture).await.map_err(|e| e.words().to_owned())?;
    Ok(id)
}

async fn small(bitmap: &ImageBitmap) -> Option<Picture> {
    let document = web_sys::window()?.document()?;
    let canvas: HtmlCanvasElement = document.create_element("canvas").ok()?.dyn_into().ok()?;
    for (side, quality) in TRIES {
        paint(&canvas, bitmap, side)?;
        for mime in ["image/webp", "image/jpeg"] {
            let blob = written(&canvas, mime, quality).await;
            if let Some(blob) = blob.filter(|b| b.size() <= MOST_KEPT) {
                let bytes = JsFuture::from(blob.array_buffer()).await.ok()?;
                let bytes = Uint8Array::new(&bytes).to_vec();
                return Some(Picture { mime: mime.to_owned(), bytes });
            }
        }
    }
    None
}

/// Paints a picture that is kept; whether it is there.
pub async fn show(id: &str, on: &HtmlCanvasElement) -> bool {
    let Ok(Some(picture)) = Device.get(id).await else { return false };
    let bag = BlobPropertyBag::new();
    bag.set_type(&picture.mime);
    let bytes = js_sys::Array::of1(&Uint8Array::from(picture.bytes.as_slice()));
    let Ok(blob) = Blob::new_with_u8_array_sequence_and_options(&bytes, &bag) else { return false };
    match decoded(&blob).await {
        Some(bitmap) => {
            let painted = paint(on, &bitmap, 1200.0).is_some();
            bitmap.close();
            painted
        }
        None => false,
    }
}

/// How long a picture that no piece names stays, in ms: undo may bring its piece back.
const STAYS: f64 = 30.0 * 24.0 * 3600.0 * 1000.0;

/// Removes pictures that no piece has named for long.
pub async fn tidy(named: &[String]) {
    let Ok(all) = Device.ids().await else { return };
    let now = js_sys::Date::now();
    for id in all.iter().filter(|id| !named.contains(id)) {
        let taken = id.split('-').next().and_then(|ms| u64::from_str_radix(ms, 16).ok());
        if taken.is_none_or(|ms| now - ms as f64 > STAYS) {
            // What stays is asked for again at the next start.
            let _ = Device.remove(id).await;
        }
    }
}

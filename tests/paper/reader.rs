//! Reads a PDF with lopdf, which shares no code with our writer, and gives its lines in mm.

use lopdf::content::Content;
use lopdf::{Document, Object};
use offsquare_paper::drawing::words_width;

/// ISO 32000-1, 8.3.2.3: one unit of user space is 1/72 in; an inch is 25.4 mm.
pub const MM: f64 = 25.4 / 72.0;

#[derive(Clone, Debug)]
pub struct Stroke {
    /// mm from the sheet's lower left corner.
    pub from: (f64, f64),
    pub to: (f64, f64),
    pub width: f64,
    pub dashed: bool,
    pub gray: f64,
    /// What it is seen through (x0, y0, x1, y1), mm; none: the whole sheet.
    pub clip: Option<[f64; 4]>,
}

impl Stroke {
    pub fn length(&self) -> f64 {
        (self.to.0 - self.from.0).hypot(self.to.1 - self.from.1)
    }
    /// The part of it that is seen through its clip and lies in a box (x0, y0, x1, y1); none if it misses.
    pub fn within(&self, rect: [f64; 4]) -> Option<((f64, f64), (f64, f64))> {
        let [x0, y0, x1, y1] = match self.clip {
            Some(c) => [c[0].max(rect[0]), c[1].max(rect[1]), c[2].min(rect[2]), c[3].min(rect[3])],
            None => rect,
        };
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let (from, to) = (self.from, self.to);
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        for (p, q) in [(-dx, from.0 - x0), (dx, x1 - from.0), (-dy, from.1 - y0), (dy, y1 - from.1)]
        {
            if p == 0.0 {
                if q < 0.0 {
                    return None;
                }
            } else if p < 0.0 {
                enter = enter.max(q / p);
            } else {
                leave = leave.min(q / p);
            }
        }
        let at = |t: f64| (from.0 + dx * t, from.1 + dy * t);
        (enter < leave).then(|| (at(enter), at(leave)))
    }
    /// A line to cut on: solid, black, 0.2 mm.
    pub fn is_cut(&self) -> bool {
        !self.dashed && self.gray == 0.0 && (self.width - 0.2).abs() < 1e-4
    }
}

#[derive(Clone, Debug)]
pub struct Words {
    pub text: String,
    pub at: (f64, f64),
    /// Along the line of type, as long as the type is tall.
    pub along: (f64, f64),
    /// How long it is, in heights of its type.
    pub long: f64,
    pub gray: f64,
    pub clip: Option<[f64; 4]>,
}

impl Words {
    /// Height of the type, mm.
    pub fn size(&self) -> f64 {
        self.along.0.hypot(self.along.1)
    }
    /// The box from the baseline to the height of capitals, (x0, y0, x1, y1) in mm.
    pub fn rect(&self) -> [f64; 4] {
        let end = (self.at.0 + self.along.0 * self.long, self.at.1 + self.along.1 * self.long);
        let top = (end.0 - self.along.1 * 0.7, end.1 + self.along.0 * 0.7);
        let (x, y) = ([self.at.0, end.0, top.0], [self.at.1, end.1, top.1]);
        let least = |v: [f64; 3]| v.into_iter().fold(f64::INFINITY, f64::min);
        let most = |v: [f64; 3]| v.into_iter().fold(f64::NEG_INFINITY, f64::max);
        [least(x), least(y), most(x), most(y)]
    }
}

#[derive(Debug)]
pub struct Page {
    /// mm.
    pub media: (f64, f64),
    pub strokes: Vec<Stroke>,
    pub words: Vec<Words>,
}

impl Page {
    pub fn says(&self, part: &str) -> bool {
        self.words.iter().any(|w| w.text.contains(part))
    }
    /// The bars of 100 mm (by their enlarged lengths), level and upright.
    pub fn bars(&self, across: f64, along: f64) -> (usize, usize) {
        let close = |s: &&Stroke, length: f64| {
            (s.length() - length).abs() < 0.01 && (s.width - 0.25).abs() < 1e-4 && !s.dashed
        };
        let level = |s: &&Stroke| (s.from.1 - s.to.1).abs() < 1e-4;
        let upright = |s: &&Stroke| (s.from.0 - s.to.0).abs() < 1e-4;
        (
            self.strokes.iter().filter(level).filter(|s| close(s, across)).count(),
            self.strokes.iter().filter(upright).filter(|s| close(s, along)).count(),
        )
    }
    /// The lines to cut on, but for the sample in the key.
    pub fn cuts(&self) -> Vec<&Stroke> {
        let key = self.key();
        let sample = |s: &Stroke| s.clip.is_none() && s.from.1 < key.1 && s.from.1 > key.0;
        self.strokes.iter().filter(|s| s.is_cut() && !sample(s)).collect()
    }
    /// From where to where the key stands: below the rule under the title, above the first caption.
    pub fn key(&self) -> (f64, f64) {
        let rule = |s: &&Stroke| (s.gray - 0.35).abs() < 1e-4 && s.from.1 == s.to.1;
        let rule = self.strokes.iter().find(rule).expect("a rule under the title").from.1;
        (rule - 10.0, rule)
    }
    pub fn clip(&self) -> Option<[f64; 4]> {
        self.strokes.iter().find_map(|s| s.clip)
    }
}

pub fn load(bytes: &[u8]) -> Document {
    Document::load_mem(bytes).expect("lopdf reads it")
}

fn number(o: &Object) -> f64 {
    match o {
        Object::Integer(i) => *i as f64,
        Object::Real(r) => f64::from(*r),
        other => panic!("not a number: {other:?}"),
    }
}

pub fn pages(bytes: &[u8]) -> Vec<Page> {
    let doc = load(bytes);
    let ids: Vec<_> = doc.get_pages().into_values().collect();
    ids.into_iter().map(|id| page(&doc, id)).collect()
}

fn page(doc: &Document, id: lopdf::ObjectId) -> Page {
    let dict = doc.get_dictionary(id).expect("a page");
    let media: Vec<f64> = dict
        .get(b"MediaBox")
        .and_then(Object::as_array)
        .expect("its own MediaBox")
        .iter()
        .map(number)
        .collect();
    assert_eq!((media[0], media[1]), (0.0, 0.0));
    let content = doc.get_page_content(id).expect("content");
    let content = Content::decode(&content).expect("operators");
    let mut out =
        Page { media: (media[2] * MM, media[3] * MM), strokes: Vec::new(), words: Vec::new() };
    let mut pen = Pen::default();
    let mut saved = Vec::new();
    let mut path: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut rects: Vec<[f64; 4]> = Vec::new();
    let mut clipping = false;
    let mut words = None::<Words>;
    let mut in_text = false;
    let mut size = 1.0;
    for op in &content.operations {
        let n: Vec<f64> = op
            .operands
            .iter()
            .filter(|o| matches!(o, Object::Integer(_) | Object::Real(_)))
            .map(number)
            .collect();
        match op.operator.as_str() {
            "q" => saved.push(pen.clone()),
            "Q" => pen = saved.pop().expect("a saved state"),
            "w" => pen.width = n[0] * MM,
            "G" => pen.gray = n[0],
            "d" => pen.dashed = !op.operands[0].as_array().expect("dashes").is_empty(),
            "m" => path.push(vec![(n[0] * MM, n[1] * MM)]),
            "l" => path.last_mut().expect("a start").push((n[0] * MM, n[1] * MM)),
            "c" => path.last_mut().expect("a start").push((n[4] * MM, n[5] * MM)),
            "h" => close(&mut path),
            "re" => {
                let [x, y, w, h] = [n[0], n[1], n[2], n[3]].map(|v| v * MM);
                rects.push([x, y, x + w, y + h]);
                path.push(vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]);
            }
            "W" => clipping = true,
            "n" | "f" | "S" | "s" => {
                if op.operator == "s" {
                    close(&mut path);
                }
                if clipping {
                    pen.clip = rects.last().copied();
                    clipping = false;
                } else if op.operator.eq_ignore_ascii_case("s") {
                    for line in &path {
                        for pair in line.windows(2) {
                            out.strokes.push(pen.stroke(pair[0], pair[1]));
                        }
                    }
                }
                path.clear();
                rects.clear();
            }
            "Tm" => {
                words = Some(Words {
                    text: String::new(),
                    at: (n[4] * MM, n[5] * MM),
                    along: (n[0] * MM, n[1] * MM),
                    long: 0.0,
                    gray: pen.fill,
                    clip: pen.clip,
                })
            }
            "Tj" => {
                assert!(in_text, "words outside a text object");
                let bytes = op.operands[0].as_str().expect("a string");
                // Windows 1252 is Latin 1 for all that we write here, but for dashes and quotes.
                let text: String = bytes.iter().map(|b| *b as char).collect();
                let words = words.as_mut().expect("a matrix");
                words.long += words_width(&text, size);
                words.text.push_str(&text);
            }
            "ET" => {
                in_text = false;
                out.words.extend(words.take());
            }
            "BT" => in_text = true,
            "g" => pen.fill = n[0],
            // Digits of fractions are smaller.
            "Tf" => size = n[0],
            "Ts" | "J" | "j" => {}
            other => panic!("unexpected operator {other}"),
        }
    }
    out
}

fn close(path: &mut [Vec<(f64, f64)>]) {
    let line = path.last_mut().expect("a path");
    line.push(line[0]);
}

#[derive(Clone, Default)]
struct Pen {
    width: f64,
    gray: f64,
    fill: f64,
    dashed: bool,
    clip: Option<[f64; 4]>,
}

impl Pen {
    fn stroke(&self, from: (f64, f64), to: (f64, f64)) -> Stroke {
        Stroke {
            from,
            to,
            width: self.width,
            dashed: self.dashed,
            gray: self.gray,
            clip: self.clip,
        }
    }
}

//! The sizes that a drawing is dressed with.

/// Sizes of everything in a drawing that does not scale with the piece. In px on screens, in mm on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Height of the text (the type size).
    pub text: f64,
    /// Type size of words beside the figure.
    pub words: f64,
    /// The text may be this much wider than Helvetica, which it is measured in.
    pub widen: f64,
    /// Whether each length has its unit: a sheet of paper goes from hand to hand, a screen says it once.
    pub units: bool,
    /// From the stretch to its first dimension line, and on to each further row.
    pub first_row: f64,
    pub row: f64,
    /// Between the figure and an extension line, and how far that runs past the dimension line.
    pub gap: f64,
    pub beyond: f64,
    /// Half length of the slanted tick at the end of a given size.
    pub tick: f64,
    /// Length of an arrow head.
    pub arrow: f64,
    /// Radius of an angle mark.
    pub angle: f64,
    /// Between the lines of a hatch.
    pub hatch: f64,
    /// Half width of the X on the side that falls off.
    pub x: f64,
    /// Least side of a tap target; 0 where nothing is tapped.
    pub target: f64,
    /// Clear space around labels, and along the frame.
    pub clear: f64,
    pub border: f64,
}

impl Pen {
    /// For a screen, in px.
    pub const SCREEN: Pen = Pen {
        text: 16.0,
        words: 13.0,
        // The fonts of some systems are 13 % wider than Helvetica.
        widen: 1.15,
        units: false,
        first_row: 25.0,
        row: 30.0,
        gap: 4.0,
        beyond: 5.0,
        tick: 4.5,
        arrow: 9.0,
        angle: 34.0,
        hatch: 7.0,
        x: 6.0,
        target: 48.0,
        clear: 3.0,
        border: 6.0,
    };
    /// For paper, in mm. Type of 3.5 mm (10 pt) reads at arm's length.
    pub const PAPER: Pen = Pen {
        text: 3.6,
        words: 3.1,
        widen: 1.0,
        units: true,
        first_row: 6.0,
        row: 7.0,
        gap: 0.8,
        beyond: 1.2,
        tick: 1.1,
        arrow: 2.2,
        angle: 11.0,
        hatch: 2.4,
        x: 2.2,
        target: 0.0,
        clear: 0.7,
        border: 1.0,
    };
}

//! The revised simplex method with a dense inverse: basis, dual values, pivots. The master problems of sticks
//! (`sticks/simplex`) and of rectangles (`guillotine/relaxation`) stand on it.

/// A basis of columns (`C` says which), with what follows from it.
pub struct Tableau<C> {
    pub rows: usize,
    pub inverse: Vec<f64>,
    pub basis: Vec<C>,
    pub level: Vec<f64>,
    /// Right-hand side, jitter included.
    pub rhs: Vec<f64>,
    /// Pivots since the last one that moved.
    pub stall: usize,
}

impl<C> Tableau<C> {
    /// Every row with a column of its own: right-hand sides and columns.
    pub fn new(level: Vec<f64>, basis: Vec<C>) -> Tableau<C> {
        let rows = level.len();
        let mut inverse = vec![0.0; rows * rows];
        for r in 0..rows {
            inverse[r * rows + r] = 1.0;
        }
        Tableau { rows, inverse, basis, rhs: level.clone(), level, stall: 0 }
    }

    /// The dual values of the rows for the costs of the basis.
    pub fn dual_values(&self, costs: &[f64]) -> Vec<f64> {
        let n = self.rows;
        let mut y = vec![0.0; n];
        for (r, &cost) in costs.iter().enumerate() {
            if cost != 0.0 {
                for (yi, b) in y.iter_mut().zip(&self.inverse[r * n..(r + 1) * n]) {
                    *yi += cost * b;
                }
            }
        }
        y
    }

    /// Brings a column into the basis; false if that is not possible.
    pub fn pivot(&mut self, column: C, entries: &[(usize, f64)]) -> bool {
        let n = self.rows;
        let mut d = vec![0.0; n];
        for &(row, a) in entries {
            for (r, x) in d.iter_mut().enumerate() {
                *x += a * self.inverse[r * n + row];
            }
        }
        let mut leave: Option<(usize, f64)> = None;
        for (r, &x) in d.iter().enumerate() {
            if x > 1e-9 {
                let ratio = self.level[r].max(0.0) / x;
                let better = match leave {
                    None => true,
                    Some((at, least)) => {
                        ratio < least - 1e-12 || (ratio <= least + 1e-12 && x > d[at])
                    }
                };
                if better {
                    leave = Some((r, ratio));
                }
            }
        }
        let Some((at, step)) = leave else {
            return false;
        };
        self.stall = if step < 1e-10 { self.stall + 1 } else { 0 };
        if self.stall > 400 + 20 * n {
            return false;
        }
        for (r, &x) in d.iter().enumerate() {
            if r != at {
                // May come out a hair below 0; setting it to 0 would be another right-hand side.
                self.level[r] -= step * x;
            }
        }
        self.level[at] = step;
        self.basis[at] = column;
        let pivot = d[at];
        let own: Vec<f64> = self.inverse[at * n..(at + 1) * n].iter().map(|x| x / pivot).collect();
        for (r, &x) in d.iter().enumerate() {
            if r != at && x != 0.0 {
                for (a, o) in self.inverse[r * n..(r + 1) * n].iter_mut().zip(&own) {
                    *a -= x * o;
                }
            }
        }
        self.inverse[at * n..(at + 1) * n].copy_from_slice(&own);
        true
    }

    /// Recomputes the inverse from the basis by Gauss-Jordan elimination.
    pub fn refactor(&mut self, columns: &[Vec<(usize, f64)>]) -> bool {
        let n = self.rows;
        let wide = 2 * n;
        let mut a = vec![0.0; n * wide];
        for (c, column) in columns.iter().enumerate() {
            for &(r, x) in column {
                a[r * wide + c] = x;
            }
        }
        for r in 0..n {
            a[r * wide + n + r] = 1.0;
        }
        for c in 0..n {
            let best =
                (c..n).max_by(|&i, &j| a[i * wide + c].abs().total_cmp(&a[j * wide + c].abs()));
            let Some(p) = best else { return false };
            if a[p * wide + c].abs() < 1e-11 {
                return false;
            }
            if p != c {
                for k in 0..wide {
                    a.swap(p * wide + k, c * wide + k);
                }
            }
            let pivot = a[c * wide + c];
            for k in 0..wide {
                a[c * wide + k] /= pivot;
            }
            let own: Vec<f64> = a[c * wide..(c + 1) * wide].to_vec();
            for r in 0..n {
                let f = a[r * wide + c];
                if r != c && f != 0.0 {
                    for (x, o) in a[r * wide + c..(r + 1) * wide].iter_mut().zip(&own[c..]) {
                        *x -= f * o;
                    }
                }
            }
        }
        for r in 0..n {
            for c in 0..n {
                self.inverse[r * n + c] = a[r * wide + n + c];
            }
            let row = &self.inverse[r * n..(r + 1) * n];
            let level: f64 = row.iter().zip(&self.rhs).map(|(x, b)| x * b).sum();
            self.level[r] = level.max(0.0);
        }
        true
    }
}

//! Images, and how far apart two of them are.

/// An image of opaque pixels, row by row.
pub struct Image {
    pub width: usize,
    pub height: usize,
    pub pixels: Vec<[u8; 3]>,
}

impl Image {
    /// Reads a PNG.
    pub fn of_png(bytes: &[u8]) -> Self {
        let pixmap = resvg::tiny_skia::Pixmap::decode_png(bytes).unwrap();
        let pixels = pixmap.pixels().iter().map(|p| [p.red(), p.green(), p.blue()]).collect();
        Self { width: pixmap.width() as usize, height: pixmap.height() as usize, pixels }
    }

    /// As a PNG.
    pub fn png(&self) -> Vec<u8> {
        let (width, height) = (u32::try_from(self.width).unwrap(), u32::try_from(self.height).unwrap());
        let mut pixmap = resvg::tiny_skia::Pixmap::new(width, height).unwrap();
        for (pixel, [red, green, blue]) in pixmap.pixels_mut().iter_mut().zip(&self.pixels) {
            *pixel = resvg::tiny_skia::PremultipliedColorU8::from_rgba(*red, *green, *blue, 255).unwrap();
        }
        pixmap.encode_png().unwrap()
    }

    pub fn at(&self, x: usize, y: usize) -> [u8; 3] {
        self.pixels[y * self.width + x]
    }

    /// Every second pixel of each side, as the mean of four.
    pub fn halved(&self) -> Self {
        let (width, height) = (self.width / 2, self.height / 2);
        let mean = |x: usize, y: usize, channel: usize| {
            let sum: u16 = [(0, 0), (1, 0), (0, 1), (1, 1)]
                .iter()
                .map(|(dx, dy)| u16::from(self.at(2 * x + dx, 2 * y + dy)[channel]))
                .sum();
            u8::try_from((sum + 2) / 4).unwrap()
        };
        let pixels = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let pixels = pixels.map(|(x, y)| [mean(x, y, 0), mean(x, y, 1), mean(x, y, 2)]).collect();
        Self { width, height, pixels }
    }

    /// Mean difference of two images, and that of their most different blocks of so many pixels a side, in 255ths of
    /// a channel.
    pub fn apart(&self, other: &Self, block: usize) -> (f64, f64) {
        assert_eq!((self.width, self.height), (other.width, other.height));
        let (mut sum, mut worst) = (0.0, 0.0_f64);
        for top in (0..self.height).step_by(block) {
            for left in (0..self.width).step_by(block) {
                let right = (left + block).min(self.width);
                let bottom = (top + block).min(self.height);
                let mut here = [0.0_f64; 3];
                for (x, y) in (top..bottom).flat_map(|y| (left..right).map(move |x| (x, y))) {
                    let (a, b) = (self.at(x, y), other.at(x, y));
                    for channel in 0..3 {
                        let difference = f64::from(a[channel]) - f64::from(b[channel]);
                        here[channel] += difference;
                        sum += difference.abs() / 3.0;
                    }
                }
                let count = ((right - left) * (bottom - top)) as f64;
                worst = here.iter().fold(worst, |worst, total| worst.max((total / count).abs()));
            }
        }
        (sum / (self.width * self.height) as f64, worst)
    }
}

#[path = "../tests/suite/hostile_texts.rs"]
mod h;
use std::time::Instant;
use wortwright::diagnostic::Source;
use wortwright::notation::*;
fn main() {
    let only = std::env::args().nth(1);
    for (n, make) in h::SHAPES {
        if only.as_deref().is_some_and(|o| !n.contains(o)) {
            continue;
        }
        let mut v = vec![];
        for k in [16_000, 128_000, 1_024_000] {
            let t = make(k);
            let s = [Source::new("t", &t)];
            let mut m = f64::MAX;
            for _ in 0..(4_000_000 / k).min(30) {
                let i = Instant::now();
                let r = read(&s);
                m = m.min(i.elapsed().as_secs_f64());
                drop(r);
            }
            v.push(m * 1e3);
        }
        println!(
            "{n:30} {:8.3} {:8.3} {:9.3} ms  x{:.1} x{:.1}  {:.1} MB/s",
            v[0],
            v[1],
            v[2],
            v[1] / v[0],
            v[2] / v[1],
            1.024 / v[2] * 1e3
        );
    }
}

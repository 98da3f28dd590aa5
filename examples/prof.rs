#[path = "../benches/plain/mod.rs"]
mod plain;
use std::hint::black_box;
use std::time::Instant;
use wortwright::diagnostic::Source;
use wortwright::notation::*;
fn below(l: &Line<'_>) -> usize {
    l.quantities().count() + l.lines().map(below).sum::<usize>()
}
fn min(name: &str, n: usize, mut f: impl FnMut()) -> f64 {
    let mut m = f64::MAX;
    for _ in 0..n {
        let t = Instant::now();
        f();
        m = m.min(t.elapsed().as_secs_f64());
    }
    println!("{name:14} {:9.2} us", m * 1e6);
    m
}
fn main() {
    let text = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle").unwrap();
    let s = [Source::new("t", &text)];
    let a: Vec<String> = std::env::args().collect();
    if a.get(1).map(|x| x.as_str()) == Some("cg") {
        for _ in 0..200 {
            if a[2] == "tree" {
                let d = Document::parse(black_box(&s[0]));
                black_box(d.lines().map(below).sum::<usize>());
            } else {
                black_box(read(black_box(&s)));
            }
        }
        return;
    }
    let json = std::fs::read_to_string("benches/data/saltmarsh-lantern.json").unwrap();
    let j = min("json", 20000, || {
        black_box(serde_json::from_str::<plain::Sheet>(black_box(&json)).unwrap());
    });
    let p = min("parse", 20000, || {
        black_box(Document::parse(black_box(&s[0])));
    });
    let t = min("tree+units", 20000, || {
        let d = Document::parse(black_box(&s[0]));
        black_box(d.lines().map(below).sum::<usize>());
    });
    let m = min("model", 20000, || {
        black_box(read(black_box(&s)));
    });
    println!(
        "ratios parse {:.2} tree {:.2} model {:.2}",
        p / j,
        t / j,
        m / j
    );
    let mut last = 0.0;
    for k in [10, 100, 1000] {
        let (t, sh) = plain::sheet_of(k * 1000);
        let js = serde_json::to_string(&sh).unwrap();
        let s = [Source::new("t", &t)];
        let n = 20000 / k;
        let j = min("json", n, || {
            black_box(serde_json::from_str::<plain::Sheet>(black_box(&js)).unwrap());
        });
        let m = min(&format!("read {k}kB"), n, || {
            black_box(read(black_box(&s)));
        });
        println!("  ratio {:.2}, to the one before {:.1}", m / j, m / last);
        last = m;
    }
}

//! What a host is shown is as short as it is said to be, and hides nothing.

use wortwright_tests::files::read;

/// The lines of each block of Rust, empty ones aside, with the heading above it.
fn blocks(text: &str) -> Vec<(&str, Vec<&str>)> {
    let mut found = Vec::new();
    for section in text.split("\n## ").skip(1) {
        let heading = section.lines().next().unwrap();
        for block in section.split("```rust\n").skip(1) {
            let code = block.split("```").next().unwrap();
            let lines = code.lines().filter(|line| !line.trim().is_empty());
            found.push((heading, lines.collect()));
        }
    }
    found
}

#[test]
fn each_task_of_the_cookbook_takes_twelve_lines_and_none_is_hidden() {
    let text = read("src/cookbook.md");
    let tasks = blocks(&text);
    assert!(tasks.len() > 12, "{}", tasks.len());
    for (task, lines) in tasks {
        assert!(lines.len() <= 12, "{task}: {}", lines.len());
        assert!(!lines.iter().any(|line| line.starts_with('#')), "{task}");
    }
}

#[test]
fn the_library_in_ten_lines_is_ten_lines() {
    let text = read("README.md");
    let tasks = blocks(&text);
    let (_, lines) = tasks
        .iter()
        .find(|(task, _)| *task == "The library in ten lines")
        .unwrap();
    assert!(lines.len() <= 10, "{lines:?}");
}

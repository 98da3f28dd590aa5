//! The exchange fed with valid requests that were bent at random, in bytes and in structure.
//!
//! A fixed start gives the same requests each time; what fails is printed with its number.

use crate::dice::Dice;
use crate::files::{below, read};
use crate::requests::{demo, lawful, request, result, whole_model};
use serde_json::{Value, json};
use std::panic::catch_unwind;
use wortwright::exchange::answer;

/// Requests of every ask, as texts and as models.
fn valid() -> Vec<Value> {
    let paths = below("tests/golden", ".request.json");
    let requests = paths.iter().map(|path| read(path));
    let mut valid: Vec<Value> = requests
        .map(|text| serde_json::from_str(&text).unwrap())
        .collect();
    valid.sort_by_key(Value::to_string);
    valid.extend(
        [
            "read",
            "predict",
            "scale",
            "substitute",
            "ledger",
            "correct",
            "sheet",
        ]
        .map(whole_model),
    );
    let asked = request(
        "substitute",
        json!({"documents": demo(), "to": "Stove top", "options": {"limit": 1}}),
    );
    let take: Vec<_> = result(&asked)["missing"]
        .as_array()
        .unwrap()
        .iter()
        .map(|missing| json!({"missing": missing["name"], "proposal": missing["proposals"][0]}))
        .collect();
    let mut taking = whole_model("scale");
    taking["take"] = json!(take);
    valid.push(taking);
    let hop = json!({"hop": {"name": "moss", "alpha_pct": 7}});
    valid.push(request(
        "catalogue",
        json!({"name": "moss", "ingredients": [hop]}),
    ));
    valid
}

/// How many values stand in a value, itself included.
fn count(value: &Value) -> usize {
    match value {
        Value::Array(items) => 1 + items.iter().map(count).sum::<usize>(),
        Value::Object(fields) => 1 + fields.values().map(count).sum::<usize>(),
        _ => 1,
    }
}

/// The value at a place, counted as they are written.
fn at<'a>(value: &'a mut Value, place: &mut usize) -> Option<&'a mut Value> {
    if *place == 0 {
        return Some(value);
    }
    *place -= 1;
    match value {
        Value::Array(items) => items.iter_mut().find_map(|item| at(item, place)),
        Value::Object(fields) => fields.values_mut().find_map(|field| at(field, place)),
        _ => None,
    }
}

fn odd_value(dice: &mut Dice) -> Value {
    match dice.below(12) {
        0 => json!(null),
        1 => json!([]),
        2 => json!({}),
        3 => json!(dice.below(2) == 0),
        4 => json!(*dice.of(&[
            "",
            "\u{0}",
            "é",
            "none",
            "20",
            "kg",
            "boil",
            "#",
            "-",
            "pale ale malt"
        ])),
        5 => json!(u64::MAX - dice.next() % 3),
        6 => json!(-(dice.below(200) as f64)),
        7 => json!(*dice.of(&[0.0, -0.0, 5e-324, 1e-9, 1e9, 1e15, 1.797e308, -1.797e308])),
        8 => json!("x".repeat(dice.below(3000))),
        9 => json!([[[[dice.below(9)]]]]),
        10 => json!(dice.below(1000)),
        _ => json!(dice.below(1_000_000) as f64 / 1e4),
    }
}

/// Changes one place.
fn bend(value: &mut Value, others: &[Value], dice: &mut Dice) {
    let mut place = dice.below(count(value));
    let Some(found) = at(value, &mut place) else {
        return;
    };
    // Names and frames bent are refused at once; figures bent go deep.
    if (found.is_object() || found.is_array()) && dice.below(4) > 0 {
        return bend(found, others, dice);
    }
    match found {
        Value::Object(fields) if !fields.is_empty() && dice.below(4) > 0 => {
            let name = fields.keys().nth(dice.below(fields.len())).unwrap().clone();
            match dice.below(3) {
                0 => drop(fields.remove(&name)),
                1 => {
                    let moved = fields.remove(&name).unwrap();
                    let cut = name.chars().skip(1).collect();
                    fields.insert(cut, moved);
                }
                _ => drop(fields.insert(format!("{name}s"), odd_value(dice))),
            }
        }
        Value::Array(items) if !items.is_empty() && dice.below(4) > 0 => {
            let place = dice.below(items.len());
            match dice.below(3) {
                0 => drop(items.remove(place)),
                1 => items.push(items[place].clone()),
                _ => items.reverse(),
            }
        }
        Value::Number(number) if dice.below(2) == 0 => {
            let factor = *dice.of(&[0.0, -1.0, 0.5, 0.99, 1.01, 2.0, 10.0, 1e3, 1e-3]);
            *found = json!(number.as_f64().unwrap() * factor);
        }
        Value::String(text) if !text.is_empty() && dice.below(2) == 0 => {
            let mut bytes = std::mem::take(text).into_bytes();
            spoil(&mut bytes, others, dice);
            *text = String::from_utf8_lossy(&bytes).into_owned();
        }
        _ if dice.below(3) == 0 => {
            let mut other = dice.of(others).clone();
            let mut place = dice.below(count(&other));
            *found = at(&mut other, &mut place).map_or(Value::Null, Value::take);
        }
        _ => *found = odd_value(dice),
    }
}

/// Changes some bytes.
fn spoil(bytes: &mut Vec<u8>, others: &[Value], dice: &mut Dice) {
    let place = dice.below(bytes.len());
    let end = (place + dice.below(40)).min(bytes.len());
    match dice.below(12) {
        0 => bytes[place] = dice.below(256) as u8,
        1 => bytes[place] ^= 1 << dice.below(8),
        2 => bytes.insert(place, *dice.of(b"\"{}[],:0-.e\\ \n#%xL")),
        3 => drop(bytes.drain(place..end)),
        4 => bytes.truncate(place),
        5 => {
            let copied = bytes[place..end].to_vec();
            let to = dice.below(bytes.len());
            bytes.splice(to..to, copied);
        }
        // Another digit leaves most texts readable, so that the models see odd figures.
        6..=10 => {
            let digit = bytes[place..].iter_mut().find(|byte| byte.is_ascii_digit());
            if let Some(digit) = digit {
                *digit = b'0' + dice.below(10) as u8;
            }
        }
        _ => {
            let other = dice.of(others).to_string().into_bytes();
            let from = dice.below(other.len());
            let until = (from + dice.below(40)).min(other.len());
            bytes.splice(place..end, other[from..until].iter().copied());
        }
    }
}

/// Feeds so many, and says how many of them were answered with a result.
pub fn feed(times: usize) -> usize {
    let valid = valid();
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let mut answered = 0;
    for number in 0..times {
        let mut bent = dice.of(&valid).clone();
        let mut bytes = Vec::new();
        if dice.below(4) > 0 {
            for _ in 0..=dice.below(3) {
                bend(&mut bent, &valid, &mut dice);
            }
            bytes.extend(bent.to_string().into_bytes());
        } else {
            bytes.extend(bent.to_string().into_bytes());
            for _ in 0..=dice.below(3) {
                if !bytes.is_empty() {
                    spoil(&mut bytes, &valid, &mut dice);
                }
            }
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let said =
            catch_unwind(|| answer(&text)).unwrap_or_else(|_| panic!("number {number}: {text}"));
        if let Err(fault) = lawful(&text, &said) {
            panic!("number {number}: {fault}\n{text}\n{said}");
        }
        answered += usize::from(said.contains("\"ok\":true"));
        if number % 50_000 == 49_999 {
            eprintln!("{} fed, {answered} answered with a result", number + 1);
        }
    }
    answered
}

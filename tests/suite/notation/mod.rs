//! Texts to models and back.

mod consistency;
mod demo;
mod grammar;
mod hostile_texts;
mod invalid_texts;
#[cfg(feature = "exchange")]
mod log;
mod notebooks;
#[cfg(feature = "exchange")]
mod own_ingredients;
mod printing;
mod reading;
mod texts;
mod typed;
#[cfg(feature = "exchange")]
mod water;
mod writing;

//! Texts to models and back.

mod consistency;
mod demo;
mod grammar;
mod hostile_texts;
mod invalid_texts;
#[cfg(feature = "exchange")]
mod log;
#[cfg(feature = "exchange")]
mod own_ingredients;
mod notebooks;
mod printing;
mod reading;
mod texts;
mod typed;
#[cfg(feature = "exchange")]
mod water;
mod writing;

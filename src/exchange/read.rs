//! Requests from JSON, read by one lean deserialiser.
//!
//! `serde_json` sees to it that a text is JSON; what is known to be JSON is then walked here, so that a value that does not
//! fit is told with its place. As with answers, what is generic here is made anew for every type and says little, and what
//! all types share is never inlined.

use super::diagnostics::Diagnostics;
use super::fault::{self, Fault};
use super::json_text;
use super::misfit::Misfit;
use serde::de::{
    DeserializeSeed, Deserializer, EnumAccess, Error as _, Expected, IgnoredAny, MapAccess,
    SeqAccess, Unexpected, VariantAccess, Visitor,
};
use serde::{Deserialize, forward_to_deserialize_any};
use serde_json::Value;

/// Brackets within brackets beyond this are not read.
const DEEPEST: usize = 127;

/// The value that a text of JSON states.
pub(super) fn read<'de, T: Deserialize<'de>>(text: &'de str) -> Result<T, Diagnostics> {
    value(text).map_err(|misfit| vec![misfit.finding(text)])
}

/// The same, or what does not fit first.
pub(super) fn value<'de, T: Deserialize<'de>>(text: &'de str) -> Result<T, Misfit> {
    let broken = broken(text);
    let mut cursor = Cursor {
        text,
        at: 0,
        depth: 0,
        unescaped: String::new(),
    };
    let first = match (T::deserialize(&mut cursor), broken) {
        (Ok(value), None) => return Ok(value),
        (Ok(_), Some(broken)) => broken,
        (Err(misfit), Some(broken)) if misfit.end() >= broken.end() => broken,
        (Err(misfit), _) => misfit,
    };
    Err(first)
}

/// Why a text is not JSON.
fn broken(text: &str) -> Option<Misfit> {
    let error = serde_json::from_str::<IgnoredAny>(text).err()?;
    let found = Misfit::not_json(text, &error);
    // A full reading says more precisely what is wrong, but may give up earlier for its depth.
    let full = serde_json::from_str::<Value>(text).err();
    let full = full.map(|full| Misfit::not_json(text, &full));
    Some(
        full.filter(|full| full.end() >= found.end())
            .unwrap_or(found),
    )
}

/// A place in a text, which is known to be JSON up to where [`broken`] says.
struct Cursor<'de> {
    text: &'de str,
    at: usize,
    depth: usize,
    /// The last string that had escapes.
    unescaped: String,
}

/// A number as JSON tells it.
enum Number {
    Natural(u64),
    Negative(i64),
    Decimal(f64),
}

impl Number {
    fn unexpected(&self) -> Unexpected<'static> {
        match *self {
            Self::Natural(value) => Unexpected::Unsigned(value),
            Self::Negative(value) => Unexpected::Signed(value),
            Self::Decimal(value) => Unexpected::Float(value),
        }
    }

    fn visit<'de, V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self {
            Self::Natural(value) => visitor.visit_u64(value),
            Self::Negative(value) => visitor.visit_i64(value),
            Self::Decimal(value) => visitor.visit_f64(value),
        }
    }
}

impl<'de> Cursor<'de> {
    /// The byte that the next value begins with.
    #[inline(never)]
    fn peek(&mut self) -> u8 {
        let bytes = self.text.as_bytes();
        self.at = json_text::space(bytes, self.at);
        bytes.get(self.at).copied().unwrap_or_default()
    }

    /// Steps over a byte if it comes next.
    #[inline(never)]
    fn takes(&mut self, byte: u8) -> bool {
        let is_there = self.peek() == byte;
        self.at += usize::from(is_there);
        is_there
    }

    /// The value that comes next, as it is written.
    #[inline(never)]
    fn token(&mut self) -> &'de str {
        let start = json_text::space(self.text.as_bytes(), self.at);
        self.at = json_text::value_end(self.text.as_bytes(), start);
        self.text.get(start..self.at).unwrap_or_default()
    }

    /// The string that comes next; nothing if it had escapes, and is now to be found in `unescaped`.
    #[inline(never)]
    fn string(&mut self, expected: &dyn Expected) -> Result<Option<&'de str>, Misfit> {
        if self.peek() != b'"' {
            return Err(self.other_than(expected));
        }
        let start = self.at;
        let token = self.token();
        let inside = token.get(1..token.len().saturating_sub(1));
        if let Some(inside) = inside.filter(|inside| !inside.contains('\\')) {
            return Ok(Some(inside));
        }
        self.unescaped = serde_json::from_str(token).map_err(|error| {
            Misfit::new(Fault::InvalidJson, fault::said(&error)).at(start + error.column())
        })?;
        Ok(None)
    }

    #[inline(never)]
    fn number(&mut self, expected: &dyn Expected) -> Result<Number, Misfit> {
        if !matches!(self.peek(), b'-' | b'0'..=b'9') {
            return Err(self.other_than(expected));
        }
        let token = self.token();
        if let Ok(value) = token.parse() {
            return Ok(Number::Natural(value));
        }
        match token.parse() {
            Ok(0) | Err(_) => {}
            Ok(value) => return Ok(Number::Negative(value)),
        }
        match token.parse() {
            Ok(value) if f64::is_finite(value) => Ok(Number::Decimal(value)),
            _ => {
                let message = "the request is not JSON: number out of range".to_owned();
                Err(Misfit::new(Fault::InvalidJson, message).at(self.at))
            }
        }
    }

    /// What comes next does not fit.
    #[inline(never)]
    fn other_than(&mut self, expected: &dyn Expected) -> Misfit {
        let unexpected = match self.peek() {
            b'{' => Unexpected::Map,
            b'[' => Unexpected::Seq,
            b'"' => {
                return match self.string(expected) {
                    Ok(text) => {
                        let text = text.unwrap_or(&self.unescaped);
                        Misfit::invalid_type(Unexpected::Str(text), expected)
                    }
                    Err(misfit) => misfit,
                }
                .at(self.at);
            }
            b'-' | b'0'..=b'9' => {
                return match self.number(expected) {
                    Ok(number) => Misfit::invalid_type(number.unexpected(), expected),
                    Err(misfit) => misfit,
                }
                .at(self.at);
            }
            first => {
                self.token();
                match first {
                    b'n' => Unexpected::Unit,
                    first => Unexpected::Bool(first == b't'),
                }
            }
        };
        Misfit::invalid_type(unexpected, expected).at(self.at)
    }

    /// Steps into an object or array.
    #[inline(never)]
    fn enter(&mut self, open: u8, expected: &dyn Expected) -> Result<(), Misfit> {
        if self.peek() != open {
            return Err(self.other_than(expected));
        }
        self.at += 1;
        self.depth += 1;
        if self.depth > DEEPEST {
            let message = format!("brackets are nested more than {DEEPEST} deep");
            let help = "no valid request nests that deep".to_owned();
            return Err(Misfit::new(Fault::TooDeep, message)
                .with_help(Some(help))
                .at(self.at));
        }
        Ok(())
    }

    /// Steps out of an object or array, whose end comes next unless it was left before.
    #[inline(never)]
    fn leave(&mut self, close: u8) -> Result<(), Misfit> {
        self.depth -= 1;
        if self.takes(close) {
            Ok(())
        } else {
            let message = "expected an array of the right length, found a longer one";
            Err(Misfit::new(Fault::WrongType, message.to_owned()).at(self.at))
        }
    }

    /// Steps into a choice; whether it holds something.
    #[inline(never)]
    fn choose(&mut self, expected: &dyn Expected) -> Result<bool, Misfit> {
        if self.peek() == b'"' {
            return Ok(false);
        }
        self.enter(b'{', expected)?;
        if self.peek() == b'}' {
            return Err(Misfit::not_one_field("none").at(self.at + 1));
        }
        Ok(true)
    }

    /// Steps out of a choice that holds something.
    #[inline(never)]
    fn chosen(&mut self) -> Result<(), Misfit> {
        self.depth -= 1;
        if self.takes(b'}') {
            Ok(())
        } else {
            Err(Misfit::not_one_field("another field in it").at(self.at))
        }
    }

    fn placed<T>(&self, read: Result<T, Misfit>) -> Result<T, Misfit> {
        read.map_err(|misfit| misfit.at(self.at))
    }
}

/// Values that are numbers, however wide.
macro_rules! numbers {
    ($($method:ident)+) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
            let number = self.number(&visitor)?;
            self.placed(number.visit(visitor))
        })+
    };
}

impl<'de> Deserializer<'de> for &mut Cursor<'de> {
    type Error = Misfit;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.peek() {
            b'{' => self.deserialize_map(visitor),
            b'[' => self.deserialize_seq(visitor),
            b'"' => self.deserialize_str(visitor),
            b't' | b'f' => self.deserialize_bool(visitor),
            b'n' => self.deserialize_unit(visitor),
            _ => self.deserialize_f64(visitor),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        let value = match self.peek() {
            b't' => true,
            b'f' => false,
            _ => return Err(self.other_than(&visitor)),
        };
        self.token();
        self.placed(visitor.visit_bool(value))
    }

    numbers! { deserialize_u8 deserialize_u32 deserialize_u64 deserialize_f64 }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        let text = self.string(&visitor)?;
        let read = visitor.visit_str(text.unwrap_or(&self.unescaped));
        self.placed(read)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        if self.peek() != b'n' {
            return Err(self.other_than(&visitor));
        }
        self.token();
        self.placed(visitor.visit_unit())
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        if self.peek() == b'n' {
            self.token();
            visitor.visit_none()
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.enter(b'[', &visitor)?;
        let read = visitor.visit_seq(Nest(&mut *self));
        let left = self.leave(b']');
        let value = self.placed(read)?;
        left.map(|()| value)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.enter(b'{', &visitor)?;
        let read = visitor.visit_map(Nest(&mut *self));
        let left = self.leave(b'}');
        let value = self.placed(read)?;
        left.map(|()| value)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        let holds = self.choose(&visitor)?;
        let value = visitor.visit_enum(Choice {
            cursor: &mut *self,
            holds,
        })?;
        if holds {
            self.chosen()?;
        }
        Ok(value)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.token();
        visitor.visit_unit()
    }

    forward_to_deserialize_any! { i8 i16 i32 i64 u16 f32 char bytes byte_buf unit_struct tuple_struct }
}

/// The members of an object, or the elements of an array.
struct Nest<'a, 'de>(&'a mut Cursor<'de>);

impl Nest<'_, '_> {
    /// Whether another one follows, which then comes next.
    #[inline(never)]
    fn goes_on(&mut self) -> bool {
        self.0.takes(b',');
        !matches!(self.0.peek(), b'}' | b']')
    }
}

impl<'de> SeqAccess<'de> for Nest<'_, 'de> {
    type Error = Misfit;

    #[inline(never)]
    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Misfit> {
        if self.goes_on() {
            seed.deserialize(&mut *self.0).map(Some)
        } else {
            Ok(None)
        }
    }
}

impl<'de> MapAccess<'de> for Nest<'_, 'de> {
    type Error = Misfit;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Misfit> {
        self.next_element_seed(seed)
    }

    #[inline(never)]
    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Misfit> {
        self.0.takes(b':');
        seed.deserialize(&mut *self.0)
    }
}

/// A word, or an object whose one member is named by the word.
struct Choice<'a, 'de> {
    cursor: &'a mut Cursor<'de>,
    /// Whether it holds something.
    holds: bool,
}

impl Choice<'_, '_> {
    /// What is needed beside the word.
    fn needs(&self, what: &'static str) -> Result<(), Misfit> {
        if self.holds {
            Ok(())
        } else {
            Err(Misfit::invalid_type(Unexpected::UnitVariant, &what))
        }
    }
}

impl<'de> EnumAccess<'de> for Choice<'_, 'de> {
    type Error = Misfit;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Misfit> {
        let word = seed.deserialize(&mut *self.cursor)?;
        if self.holds {
            self.cursor.takes(b':');
        }
        Ok((word, self))
    }
}

impl<'de> VariantAccess<'de> for Choice<'_, 'de> {
    type Error = Misfit;

    fn unit_variant(self) -> Result<(), Misfit> {
        if self.holds {
            <()>::deserialize(self.cursor)
        } else {
            Ok(())
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Misfit> {
        self.needs("newtype variant")?;
        seed.deserialize(self.cursor)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Misfit> {
        self.needs("tuple variant")?;
        self.cursor.deserialize_seq(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        self.needs("struct variant")?;
        self.cursor.deserialize_map(visitor)
    }
}

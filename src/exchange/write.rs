//! Answers as JSON, written by one lean serialiser.
//!
//! The compiler makes each type's `serialize` anew for every serialiser and repeats the serialiser's own lines for every
//! field, so one for all answers that says little in its generic functions is what keeps the build short. What all types
//! share is never inlined for the same reason.

use super::json_text::member;
use serde::Serialize;
use serde::ser::{
    Error as _, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant,
    SerializeTuple, SerializeTupleStruct, SerializeTupleVariant, Serializer,
};
use serde_json::{Error, Result};

/// The name that tells a text that is JSON already from other texts.
const JSON: &str = "wortwright::Json";

/// A value as JSON.
pub(super) fn json<T: Serialize + ?Sized>(value: &T) -> Result<Json> {
    let mut writer = Writer::default();
    value.serialize(&mut writer)?;
    writer.done()
}

/// A text that is JSON already.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Json(String);

impl Json {
    /// A text that somebody else knows to be JSON.
    pub(super) fn known(text: &str) -> Self {
        Self(text.to_owned())
    }

    pub(super) fn into_text(self) -> String {
        self.0
    }

    /// This object with texts as members at its end.
    pub(super) fn with(self, texts: &[(&'static str, &str)]) -> Result<Self> {
        let mut out = self.0.into_bytes();
        out.pop();
        let mut writer = Writer {
            out,
            is_json: false,
        };
        for (key, text) in texts {
            writer.key(key);
            writer.text(text)?;
        }
        writer.out.push(b'}');
        writer.done()
    }

    /// This object with another value for a member, if it has one of that name.
    pub(super) fn replaced(mut self, key: &str, value: &Self) -> Self {
        if let Some(member) = member(&self.0, &[key]) {
            self.0.replace_range(member.value, &value.0);
        }
        self
    }
}

impl Serialize for Json {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.serialize_newtype_struct(JSON, &self.0)
    }
}

#[derive(Default)]
struct Writer {
    out: Vec<u8>,
    /// The next text is JSON already.
    is_json: bool,
}

impl Writer {
    fn done(self) -> Result<Json> {
        let text = String::from_utf8(self.out).map_err(Error::custom)?;
        Ok(Json(text))
    }

    /// A comma, unless an object or array has just begun.
    fn next(&mut self) {
        if !matches!(self.out.last(), Some(b'{' | b'[')) {
            self.out.push(b',');
        }
    }

    /// A member's name, which needs no escapes.
    #[inline(never)]
    fn key(&mut self, key: &'static str) {
        self.next();
        self.out.push(b'"');
        self.out.extend_from_slice(key.as_bytes());
        self.out.extend_from_slice(b"\":");
    }

    #[inline(never)]
    fn text(&mut self, text: &str) -> Result<()> {
        if std::mem::take(&mut self.is_json) {
            self.out.extend_from_slice(text.as_bytes());
            Ok(())
        } else {
            serde_json::to_writer(&mut self.out, text)
        }
    }

    #[inline(never)]
    fn literal(&mut self, literal: &str) {
        self.out.extend_from_slice(literal.as_bytes());
    }

    #[inline(never)]
    fn open(&mut self, open: u8, close: &'static str) -> Nest<'_> {
        self.out.push(open);
        Nest {
            writer: self,
            close,
        }
    }

    #[inline(never)]
    fn open_variant(&mut self, variant: &'static str, open: u8, close: &'static str) -> Nest<'_> {
        self.out.push(b'{');
        self.key(variant);
        self.open(open, close)
    }
}

impl<'a> Serializer for &'a mut Writer {
    type Ok = ();
    type Error = Error;
    type SerializeSeq = Nest<'a>;
    type SerializeTuple = Nest<'a>;
    type SerializeTupleStruct = Nest<'a>;
    type SerializeTupleVariant = Nest<'a>;
    type SerializeMap = Nest<'a>;
    type SerializeStruct = Nest<'a>;
    type SerializeStructVariant = Nest<'a>;

    fn serialize_bool(self, value: bool) -> Result<()> {
        self.literal(if value { "true" } else { "false" });
        Ok(())
    }

    fn serialize_i8(self, value: i8) -> Result<()> {
        self.serialize_i64(value.into())
    }

    fn serialize_i16(self, value: i16) -> Result<()> {
        self.serialize_i64(value.into())
    }

    fn serialize_i32(self, value: i32) -> Result<()> {
        self.serialize_i64(value.into())
    }

    fn serialize_i64(self, value: i64) -> Result<()> {
        serde_json::to_writer(&mut self.out, &value)
    }

    fn serialize_u8(self, value: u8) -> Result<()> {
        self.serialize_u64(value.into())
    }

    fn serialize_u16(self, value: u16) -> Result<()> {
        self.serialize_u64(value.into())
    }

    fn serialize_u32(self, value: u32) -> Result<()> {
        self.serialize_u64(value.into())
    }

    fn serialize_u64(self, value: u64) -> Result<()> {
        serde_json::to_writer(&mut self.out, &value)
    }

    fn serialize_f32(self, value: f32) -> Result<()> {
        self.serialize_f64(value.into())
    }

    fn serialize_f64(self, value: f64) -> Result<()> {
        serde_json::to_writer(&mut self.out, &value)
    }

    fn serialize_char(self, value: char) -> Result<()> {
        self.text(value.encode_utf8(&mut [0; 4]))
    }

    fn serialize_str(self, value: &str) -> Result<()> {
        self.text(value)
    }

    fn serialize_bytes(self, value: &[u8]) -> Result<()> {
        serde_json::to_writer(&mut self.out, value)
    }

    fn serialize_none(self) -> Result<()> {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<()> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<()> {
        self.literal("null");
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<()> {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Result<()> {
        self.text(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        name: &'static str,
        value: &T,
    ) -> Result<()> {
        self.is_json = name == JSON;
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<()> {
        self.out.push(b'{');
        self.key(variant);
        value.serialize(&mut *self)?;
        self.out.push(b'}');
        Ok(())
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Nest<'a>> {
        Ok(self.open(b'[', "]"))
    }

    fn collect_seq<I: IntoIterator<Item: Serialize>>(self, items: I) -> Result<()> {
        self.out.push(b'[');
        for item in items {
            self.next();
            item.serialize(&mut *self)?;
        }
        self.out.push(b']');
        Ok(())
    }

    fn serialize_tuple(self, _: usize) -> Result<Nest<'a>> {
        Ok(self.open(b'[', "]"))
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Nest<'a>> {
        Ok(self.open(b'[', "]"))
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Nest<'a>> {
        Ok(self.open_variant(variant, b'[', "]}"))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Nest<'a>> {
        Ok(self.open(b'{', "}"))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Nest<'a>> {
        Ok(self.open(b'{', "}"))
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Nest<'a>> {
        Ok(self.open_variant(variant, b'{', "}}"))
    }
}

/// An object or array that has begun.
struct Nest<'a> {
    writer: &'a mut Writer,
    close: &'static str,
}

impl Nest<'_> {
    #[inline(never)]
    fn element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<()> {
        self.writer.next();
        value.serialize(&mut *self.writer)
    }

    #[inline(never)]
    fn member<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<()> {
        self.writer.key(key);
        value.serialize(&mut *self.writer)
    }

    fn close(self) {
        self.writer.literal(self.close);
    }
}

/// Arrays and objects that serde tells apart and JSON does not.
macro_rules! nests {
    ($($of:ident { $put:ident($($key:ident: $text:ty)?) = $by:ident })+) => {
        $(impl $of for Nest<'_> {
            type Ok = ();
            type Error = Error;

            fn $put<T: Serialize + ?Sized>(&mut self, $($key: $text,)? value: &T) -> Result<()> {
                self.$by($($key,)? value)
            }

            fn end(self) -> Result<()> {
                self.close();
                Ok(())
            }
        })+
    };
}

nests! {
    SerializeSeq { serialize_element() = element }
    SerializeTuple { serialize_element() = element }
    SerializeTupleStruct { serialize_field() = element }
    SerializeTupleVariant { serialize_field() = element }
    SerializeStruct { serialize_field(key: &'static str) = member }
    SerializeStructVariant { serialize_field(key: &'static str) = member }
}

impl SerializeMap for Nest<'_> {
    type Ok = ();
    type Error = Error;

    /// The names of members are texts in every answer.
    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<()> {
        self.element(key)?;
        self.writer.out.push(b':');
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<()> {
        value.serialize(&mut *self.writer)
    }

    fn end(self) -> Result<()> {
        self.close();
        Ok(())
    }
}

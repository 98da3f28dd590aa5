//! The leaves of models in JSON: every input that a host can state, by the schema that says which there are.

use serde_json::{Value, json};
use std::collections::BTreeSet;

/// One input of a set of models.
#[derive(Debug, Clone)]
pub(crate) struct Leaf {
    /// Where it stands in the models' JSON.
    pub(crate) pointer: String,
    /// Its place, as entries name it.
    pub(crate) place: String,
    /// The type that has it and its field, such as `Brewhouse.kettle_l`.
    pub(crate) field: String,
    /// The kind of ingredient that it speaks of; empty for everything else.
    pub(crate) kind: String,
    /// Other values that it might have, the mildest first.
    pub(crate) bent: Vec<Value>,
}

impl Leaf {
    /// The models themselves.
    pub(crate) fn whole() -> Self {
        Self {
            pointer: String::new(),
            place: String::new(),
            field: String::new(),
            kind: String::new(),
            bent: Vec::new(),
        }
    }

    /// What the lists call it: the section of the recipe and the kind of ingredient, where there are any, and the field.
    pub(crate) fn key(&self) -> String {
        let root = self.pointer.split('/').nth(1).unwrap();
        let section = match root {
            "recipe" => self.pointer.split('/').nth(2).unwrap_or_default(),
            other => other,
        };
        let section = if self.pointer.contains("/pitch/") {
            "pitch"
        } else {
            section
        };
        match self.kind.as_str() {
            "" => self.field.clone(),
            kind => format!("{section} {kind} {}", self.field),
        }
    }
}

/// The schema of the models, as the exchange publishes it.
pub(crate) struct Schema {
    root: Value,
}

/// What the library itself writes when something is taken: no host states it.
const MADE: [&str; 1] = ["Swaps"];
/// What the models consist of.
const ROOTS: [&str; 4] = ["recipe", "brewhouses", "stock", "logs"];

impl Schema {
    pub(crate) fn new(root: Value) -> Self {
        Self { root }
    }

    /// The leaves of models.
    pub(crate) fn leaves(&self, models: &Value) -> Vec<Leaf> {
        let mut leaves = Vec::new();
        for root in ROOTS {
            let schema = &self.root["properties"][root];
            let at = At::root(root);
            self.walk(&models[root], schema, &at, &mut leaves);
        }
        leaves
    }

    /// Every field that models can have.
    pub(crate) fn fields(&self) -> BTreeSet<String> {
        let mut fields = BTreeSet::new();
        let mut seen = BTreeSet::new();
        for root in ROOTS {
            self.gather(&self.root["properties"][root], root, &mut seen, &mut fields);
        }
        fields
    }

    fn resolved<'s>(&'s self, schema: &'s Value) -> (&'s Value, Option<&'s str>) {
        match schema["$ref"].as_str() {
            Some(path) => {
                let name = path.rsplit('/').next().unwrap();
                (&self.root["$defs"][name], Some(name))
            }
            None => (schema, None),
        }
    }

    fn walk(&self, value: &Value, schema: &Value, at: &At, leaves: &mut Vec<Leaf>) {
        let (schema, name) = self.resolved(schema);
        let at = &at.of_type(name);
        if value.is_null() {
            return;
        }
        if is_quantity(schema) {
            leaves.push(at.leaf(quantity_bends(value)));
        } else if let Some(words) = self.words(schema)
            && let Some(word) = value.as_str()
        {
            let others = words.into_iter().filter(|other| other != word);
            leaves.push(at.leaf(others.map(Value::from).collect()));
        } else if let Some(fitting) = self.alternative(value, schema) {
            self.walk(value, fitting, at, leaves);
        } else {
            match value {
                Value::Object(fields) => {
                    let at = &at.of_kind(value);
                    for (key, value) in fields {
                        let Some(schema) = schema["properties"].get(key) else {
                            panic!("the schema of {} has no `{key}`", at.place);
                        };
                        self.walk(value, schema, &at.field(key), leaves);
                    }
                }
                Value::Array(items) => {
                    for (index, item) in items.iter().enumerate() {
                        let fixed = schema["prefixItems"].get(index);
                        let schema = fixed.unwrap_or(&schema["items"]);
                        self.walk(item, schema, &at.item(index, item), leaves);
                    }
                }
                Value::Bool(is) => leaves.push(at.leaf(vec![json!(!is)])),
                Value::Number(number) => {
                    let number = number.as_f64().unwrap();
                    leaves.push(at.leaf(if schema["type"] == "integer" {
                        [number + 1.0, number + 9.0, number - 1.0]
                            .map(|bent| json!(bent as i64))
                            .to_vec()
                    } else {
                        number_bends(number)
                    }));
                }
                _ => leaves.push(at.leaf(Vec::new())),
            }
        }
    }

    /// The words that an enumeration has, if the schema is one.
    fn words(&self, schema: &Value) -> Option<Vec<String>> {
        let (schema, _) = self.resolved(schema);
        let word = |value: &Value| value.as_str().map(str::to_owned);
        if let Some(values) = schema["enum"].as_array() {
            return values.iter().map(word).collect();
        }
        if let Some(value) = schema.get("const") {
            return Some(vec![word(value)?]);
        }
        let several = schema["oneOf"].as_array().or(schema["anyOf"].as_array())?;
        let known: Vec<_> = several.iter().filter_map(|one| self.words(one)).collect();
        (!known.is_empty()).then(|| known.concat())
    }

    /// The one of several schemas that a value fits.
    fn alternative<'s>(&'s self, value: &Value, schema: &'s Value) -> Option<&'s Value> {
        let several = schema["oneOf"].as_array().or(schema["anyOf"].as_array())?;
        several.iter().find(|one| {
            let (schema, _) = self.resolved(one);
            match value {
                Value::Object(fields) => {
                    schema["properties"].is_object()
                        && fields
                            .keys()
                            .all(|key| schema["properties"].get(key).is_some())
                        || self.alternative(value, schema).is_some()
                }
                Value::Array(_) => schema["type"] == "array",
                Value::String(_) => schema["type"] == "string",
                _ => schema["type"] != "null",
            }
        })
    }

    fn gather(
        &self,
        schema: &Value,
        field: &str,
        seen: &mut BTreeSet<String>,
        fields: &mut BTreeSet<String>,
    ) {
        let (schema, name) = self.resolved(schema);
        let owner = name.unwrap_or(field.split('.').next().unwrap());
        if name.is_some_and(|name| MADE.contains(&name)) {
            return;
        }
        if is_quantity(schema) || self.words(schema).is_some() {
            fields.extend(field.contains('.').then(|| field.to_owned()));
        }
        if is_quantity(schema) {
            return;
        }
        if let Some(name) = name
            && !seen.insert(name.to_owned())
        {
            return;
        }
        for several in ["oneOf", "anyOf", "prefixItems"] {
            for one in schema[several].as_array().into_iter().flatten() {
                let field = if name.is_some() { owner } else { field };
                self.gather(one, field, seen, fields);
            }
        }
        if schema["items"].is_object() {
            self.gather(&schema["items"], field, seen, fields);
        }
        for (key, one) in schema["properties"].as_object().into_iter().flatten() {
            self.gather(one, &format!("{owner}.{key}"), seen, fields);
        }
        let is_plain = |kind: &Value| {
            matches!(
                kind.as_str(),
                Some("string" | "number" | "integer" | "boolean")
            )
        };
        let kind = &schema["type"];
        let plain = is_plain(kind)
            || kind
                .as_array()
                .is_some_and(|kinds| kinds.iter().any(is_plain));
        if plain && schema.get("const").is_none() && schema.get("enum").is_none() {
            fields.insert(field.to_owned());
        }
    }
}

/// Whether the schema is that of a figure with a unit.
fn is_quantity(schema: &Value) -> bool {
    let several = schema["anyOf"].as_array();
    several.is_some_and(|several| several.iter().any(|one| one["$ref"] == "#/$defs/Written"))
}

fn quantity_bends(value: &Value) -> Vec<Value> {
    let (number, unit) = (value["number"].as_f64().unwrap(), &value["unit"]);
    number_bends(number)
        .into_iter()
        .map(|number| json!({"number": number, "unit": unit}))
        .collect()
}

/// Other numbers: a little more or less first, since shares must still add up; then past what limits a plant.
fn number_bends(number: f64) -> Vec<Value> {
    if number == 0.0 {
        return vec![json!(1.0), json!(10.0), json!(-1.0)];
    }
    let factors = [1.002, 0.97, 1.06, 0.8, 1.5, 0.2, 0.05, 4.0, 20.0];
    factors.map(|factor| json!(number * factor)).to_vec()
}

/// Where a walk through models has come to.
#[derive(Debug, Clone)]
struct At {
    pointer: String,
    place: String,
    field: String,
    /// The innermost type that has a name.
    owner: String,
    /// The kind of the ingredient that it belongs to.
    kind: String,
}

impl At {
    fn root(name: &str) -> Self {
        Self {
            pointer: format!("/{name}"),
            place: name.to_owned(),
            field: name.to_owned(),
            owner: name.to_owned(),
            kind: String::new(),
        }
    }

    /// An ingredient, and the line that holds one, tell of what kind their fields speak.
    fn of_kind(&self, value: &Value) -> Self {
        let ingredients = [
            value.pointer("/content/single"),
            value.get("ingredient"),
            value.get("kind").map(|_| value),
        ];
        let kind = ingredients
            .into_iter()
            .flatten()
            .find_map(|ingredient| ingredient["kind"].as_str());
        let mut at = self.clone();
        if let Some(kind) = kind {
            kind.clone_into(&mut at.kind);
        }
        at
    }

    fn of_type(&self, name: Option<&str>) -> Self {
        let mut at = self.clone();
        if let Some(name) = name {
            name.clone_into(&mut at.owner);
        }
        at
    }

    fn field(&self, key: &str) -> Self {
        Self {
            pointer: format!("{}/{key}", self.pointer),
            place: format!("{}.{key}", self.place),
            field: format!("{}.{key}", self.owner),
            owner: self.owner.clone(),
            kind: self.kind.clone(),
        }
    }

    /// An item of a list. Plants and logs are known by their names.
    fn item(&self, index: usize, item: &Value) -> Self {
        let is_named = matches!(self.place.as_str(), "brewhouses" | "logs");
        let name = item["name"].as_str().unwrap_or_default();
        Self {
            pointer: format!("{}/{index}", self.pointer),
            place: if is_named {
                format!("{}[{name}]", self.place)
            } else {
                format!("{}[{index}]", self.place)
            },
            ..self.clone()
        }
    }

    fn leaf(&self, bent: Vec<Value>) -> Leaf {
        Leaf {
            pointer: self.pointer.clone(),
            place: self.place.clone(),
            field: self.field.clone(),
            kind: self.kind.clone(),
            bent,
        }
    }
}

/// The models with another value at a leaf.
pub(crate) fn with(models: &Value, leaf: &Leaf, value: &Value) -> Value {
    let mut models = models.clone();
    *models.pointer_mut(&leaf.pointer).unwrap() = value.clone();
    models
}

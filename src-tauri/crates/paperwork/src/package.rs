//! `datapackage.json`: what a folder of CSV files says of itself, for programs (Data Package and Table Schema,
//! version 2).

use crate::table::{Column, Kind, Table};
use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};

/// What is said of the whole folder.
#[derive(Clone, Debug)]
pub struct Package {
    /// A name for programs: lower case, digits, hyphens.
    pub name: String,
    /// A name for people.
    pub title: String,
    /// What is in it, in a sentence or two.
    pub description: String,
    /// ISO 4217 code of every amount.
    pub currency: String,
}

impl Package {
    /// The file, for tables whose CSV files were already made.
    #[must_use]
    pub fn json(&self, tables: &[(&Table, &[u8])]) -> Vec<u8> {
        let resources: Vec<Value> = tables.iter().map(|(table, file)| self.resource(table, file)).collect();
        let package = json!({
            "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
            "name": self.name,
            "title": self.title,
            "description": self.description,
            "resources": resources,
        });
        // A value made of maps and text always has a text form.
        let mut text = serde_json::to_string_pretty(&package).unwrap_or_default();
        text.push('\n');
        text.into_bytes()
    }

    fn resource(&self, table: &Table, file: &[u8]) -> Value {
        json!({
            "name": table.name,
            "type": "table",
            "path": table.file(),
            "title": table.title,
            "description": table.description,
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "bytes": file.len(),
            "hash": format!("sha256:{}", hex(&Sha256::digest(file))),
            "dialect": { "header": true, "delimiter": ",", "quoteChar": "\"", "doubleQuote": true,
                         "lineTerminator": "\r\n" },
            "schema": self.schema(table),
        })
    }

    fn schema(&self, table: &Table) -> Value {
        let mut schema = Map::new();
        schema.insert("$schema".to_owned(), json!("https://datapackage.org/profiles/2.0/tableschema.json"));
        schema.insert("fields".to_owned(), table.columns.iter().map(|column| self.field(column)).collect());
        schema.insert("missingValues".to_owned(), json!([""]));
        if !table.key.is_empty() {
            schema.insert("primaryKey".to_owned(), json!(table.key));
        }
        if !table.links.is_empty() {
            let links = table.links.iter().map(|link| {
                json!({ "fields": [link.column], "reference": { "resource": link.table, "fields": [link.to] } })
            });
            schema.insert("foreignKeys".to_owned(), links.collect());
        }
        Value::Object(schema)
    }

    fn field(&self, column: &Column) -> Value {
        let mut field = Map::new();
        let mut say = |name: &str, value: Value| field.insert(name.to_owned(), value);
        say("name", json!(column.name));
        say("title", json!(column.title));
        let description = match column.kind {
            Kind::Money => format!("{} In {}.", column.description, self.currency),
            _ => column.description.to_owned(),
        };
        say("description", json!(description));
        let (kind, format) = match column.kind {
            Kind::Text => ("string", None),
            Kind::Money | Kind::Quantity | Kind::Rate => ("number", None),
            Kind::Date => ("date", None),
            Kind::Month => ("yearmonth", None),
            Kind::Integer => ("integer", None),
            Kind::YesNo => ("boolean", None),
            Kind::Id => ("string", Some("uuid")),
        };
        say("type", json!(kind));
        if let Some(format) = format {
            say("format", json!(format));
        }
        if column.kind == Kind::YesNo {
            say("trueValues", json!(["yes"]));
            say("falseValues", json!(["no"]));
        }
        let mut constraints = Map::new();
        if column.required {
            constraints.insert("required".to_owned(), json!(true));
        }
        if column.not_negative {
            constraints.insert("minimum".to_owned(), json!(0));
        }
        if !column.words.is_empty() {
            constraints.insert("enum".to_owned(), json!(column.words));
        }
        if !constraints.is_empty() {
            say("constraints", Value::Object(constraints));
        }
        Value::Object(field)
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::Package;
    use crate::table::{Column, Kind, Link, Table};
    use serde_json::{Value, json};

    #[test]
    fn a_package_says_what_its_files_hold() {
        const LINKS: &[Link] = &[Link { column: "job", table: "jobs", to: "job" }];
        let columns = vec![
            Column::new("line", Kind::Integer, "Line", "Its place.").required(),
            Column::new("job", Kind::Text, "Job", "The job's number."),
            Column::new("debit", Kind::Money, "Debit", "Debit.").not_negative(),
            Column::new("kind", Kind::Text, "Kind", "Kind.").one_of(&["bill"]),
            Column::new("late", Kind::YesNo, "Late", "Late."),
            Column::new("id", Kind::Id, "Id", "Id."),
        ];
        let table = Table::new("journal", "Journal", "Lines.", &["line"], LINKS, columns);
        let package = Package {
            name: "quill-roofing-2026-10-part-1".to_owned(),
            title: "Title".to_owned(),
            description: "What.".to_owned(),
            currency: "USD".to_owned(),
        };
        let json: Value = serde_json::from_slice(&package.json(&[(&table, b"abc")])).unwrap();
        let resource = &json["resources"][0];
        assert_eq!(resource["path"], "journal.csv");
        assert_eq!(resource["bytes"], 3);
        // FIPS 180-4's own example of SHA-256 over "abc".
        let abc = "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(resource["hash"], abc);
        let schema = &resource["schema"];
        assert_eq!(schema["primaryKey"], json!(["line"]));
        let link = json!([{ "fields": ["job"], "reference": { "resource": "jobs", "fields": ["job"] } }]);
        assert_eq!(schema["foreignKeys"], link);
        let fields = schema["fields"].as_array().unwrap();
        assert_eq!(fields[0]["constraints"], json!({ "required": true }));
        assert_eq!(fields[2]["description"], "Debit. In USD.");
        assert_eq!(fields[2]["constraints"], json!({ "minimum": 0 }));
        assert_eq!(fields[3]["constraints"], json!({ "enum": ["bill"] }));
        assert_eq!(fields[4]["trueValues"], json!(["yes"]));
        assert_eq!(fields[5]["format"], "uuid");
    }
}

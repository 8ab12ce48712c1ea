//! A checker of links: every address inside a site leads to a file, every anchor to an id, and no page asks for more.

use std::collections::{BTreeMap, BTreeSet};

use compasario::disk::OutputFile;

/// One attribute of one tag.
pub struct Attribute {
    pub tag: String,
    pub name: String,
    pub value: String,
}

/// The tags of a page with their attributes, scripts and styles left out. Enough of HTML for pages of our own.
pub fn attributes(html: &str) -> Vec<Attribute> {
    let mut out = Vec::new();
    let mut rest = html;
    while let Some((_, after)) = rest.split_once('<') {
        rest = after;
        let Some(tag) = after
            .split(|c: char| !c.is_ascii_alphanumeric())
            .next()
            .filter(|tag| !tag.is_empty())
        else {
            continue;
        };
        let mut inside = &after[tag.len()..];
        while !inside.starts_with('>') && !inside.starts_with("/>") && !inside.is_empty() {
            inside = inside.trim_start();
            let end = inside
                .find(|c: char| c == '=' || c == '>' || c.is_whitespace())
                .unwrap_or(inside.len());
            let name = inside[..end].trim_end_matches('/').to_owned();
            inside = &inside[end..];
            let value = match inside.strip_prefix("=\"") {
                Some(quoted) => {
                    let (value, later) = quoted.split_once('"').unwrap();
                    inside = later;
                    value.to_owned()
                }
                None => String::new(),
            };
            if !name.is_empty() {
                out.push(Attribute {
                    tag: tag.to_owned(),
                    name,
                    value: unescape(&value),
                });
            } else {
                break;
            }
        }
        if matches!(tag, "script" | "style") {
            rest = inside.split_once(&format!("</{tag}")).map_or("", |(_, later)| later);
        } else {
            rest = inside;
        }
    }
    out
}

pub fn unescape(text: &str) -> String {
    let plain = text
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#39;", "'");
    plain
        .replace("&#x27;", "'")
        .replace("&#x2F;", "/")
        .replace("&amp;", "&")
}

/// What is wrong with the links of a site.
pub fn faults(files: &[OutputFile], elsewhere: impl Fn(&str) -> bool) -> Vec<String> {
    let pages: BTreeMap<&str, String> = files
        .iter()
        .map(|file| (file.path.as_str(), String::from_utf8_lossy(&file.bytes).into_owned()))
        .collect();
    let html = pages.iter().filter(|(path, _)| path.ends_with(".html"));
    let parsed: BTreeMap<&str, Vec<Attribute>> = html.map(|(path, text)| (*path, attributes(text))).collect();
    let mut faults = Vec::new();
    let mut ids: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (path, attributes) in &parsed {
        let known = ids.entry(path).or_default();
        for id in attributes.iter().filter(|attribute| attribute.name == "id") {
            if !known.insert(&id.value) {
                faults.push(format!("{path}: the id {} stands twice", id.value));
            }
        }
    }
    for (path, attributes) in &parsed {
        for attribute in attributes {
            let Attribute { tag, name, value } = attribute;
            if name.starts_with("on") {
                faults.push(format!("{path}: <{tag} {name}> is an inline handler"));
            }
            if tag == "script" && name == "type" && value == "module" {
                faults.push(format!("{path}: a module does not run from file://"));
            }
            let names_other_ids = ["aria-labelledby", "aria-describedby", "for"].contains(&name.as_str());
            for id in value.split_whitespace().filter(|_| names_other_ids) {
                if !ids[path].contains(id) {
                    faults.push(format!("{path}: {name} names {id}, which is not there"));
                }
            }
            if !["href", "src", "srcset", "poster", "data"].contains(&name.as_str()) {
                continue;
            }
            let outside = value.contains("//") || value.contains(':');
            match (tag.as_str(), outside) {
                ("a", true) if value.starts_with("https://") || value.starts_with("http://") => {}
                (_, true) => faults.push(format!("{path}: <{tag} {name}={value}> leads outside")),
                (_, false) => {
                    let (target, anchor) = value.split_once('#').unwrap_or((value, ""));
                    let target = resolve(path, target);
                    if elsewhere(&target) {
                        continue;
                    }
                    if !pages.contains_key(target.as_str()) {
                        faults.push(format!("{path}: {value} leads to {target}, which is not there"));
                    } else if !anchor.is_empty() && !ids.get(target.as_str()).is_some_and(|ids| ids.contains(anchor)) {
                        faults.push(format!("{path}: {value}: there is no such anchor"));
                    }
                }
            }
        }
    }
    faults
}

fn resolve(page: &str, target: &str) -> String {
    if target.is_empty() {
        return page.to_owned();
    }
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in target.split('/') {
        match part {
            ".." => {
                if parts.pop().is_none() {
                    return format!("OUTSIDE/{target}");
                }
            }
            "." => {}
            part => parts.push(part),
        }
    }
    parts.join("/")
}

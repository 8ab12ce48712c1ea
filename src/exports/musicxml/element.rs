use std::io;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

/// An element of XML: its name, its attributes, and either text or further elements.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Element {
    name: &'static str,
    attributes: Vec<(&'static str, String)>,
    text: String,
    children: Vec<Element>,
}

/// An empty element.
pub(super) fn el(name: &'static str) -> Element {
    Element {
        name,
        attributes: Vec::new(),
        text: String::new(),
        children: Vec::new(),
    }
}

/// An element with text.
pub(super) fn text(name: &'static str, text: impl ToString) -> Element {
    Element {
        text: text.to_string(),
        ..el(name)
    }
}

impl Element {
    pub fn attr(mut self, name: &'static str, value: impl ToString) -> Self {
        self.attributes.push((name, value.to_string()));
        self
    }

    pub fn with(mut self, child: Element) -> Self {
        self.children.push(child);
        self
    }

    pub fn with_all(mut self, children: impl IntoIterator<Item = Element>) -> Self {
        self.children.extend(children);
        self
    }

    pub fn is_empty(&self) -> bool {
        self.children.is_empty() && self.text.is_empty()
    }

    fn write(&self, writer: &mut Writer<Vec<u8>>) -> io::Result<()> {
        let mut start = BytesStart::new(self.name);
        for (name, value) in &self.attributes {
            start.push_attribute((*name, value.as_str()));
        }
        if self.is_empty() {
            return writer.write_event(Event::Empty(start));
        }
        writer.write_event(Event::Start(start))?;
        if !self.text.is_empty() {
            let plain: String = self.text.chars().filter(|letter| allowed(*letter)).collect();
            writer.write_event(Event::Text(BytesText::new(&plain)))?;
        }
        for child in &self.children {
            child.write(writer)?;
        }
        writer.write_event(Event::End(BytesEnd::new(self.name)))
    }

    /// A whole document; `doctype` is what stands between `<!DOCTYPE` and `>`.
    pub fn document(&self, doctype: &str) -> Option<String> {
        let mut writer = Writer::new_with_indent(Vec::new(), b' ', 1);
        let declaration = BytesDecl::new("1.0", Some("UTF-8"), Some("no"));
        writer.write_event(Event::Decl(declaration)).ok()?;
        let doctype = BytesText::from_escaped(doctype);
        writer.write_event(Event::DocType(doctype)).ok()?;
        self.write(&mut writer).ok()?;
        let mut bytes = writer.into_inner();
        bytes.push(b'\n');
        String::from_utf8(bytes).ok()
    }
}

/// Control letters have no place in XML 1.0.
fn allowed(letter: char) -> bool {
    !letter.is_control() || matches!(letter, '\t' | '\n' | '\r')
}

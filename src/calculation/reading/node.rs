//! A question as a tree, in the order in which it was written, with the places that were filled in to go on.

/// A value of a question that is being mended.
#[derive(Clone, Debug, PartialEq)]
pub enum Node {
    Null,
    Truth(bool),
    /// A number, as written.
    Number {
        written: String,
        value: f64,
    },
    Text(String),
    List(Vec<Node>),
    Object(Vec<(String, Node)>),
    /// What stands in for a value, with the fields that had to be given to it.
    Filled {
        why: Why,
        fields: Vec<(String, Node)>,
    },
    /// A field that is not known here; what is.
    Unknown(&'static [&'static str]),
}

/// Why a value was filled in.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// The field is missing.
    Missing,
    /// The value is of the wrong kind: what was found, what is accepted.
    Wrong { found: String, accepted: String },
    /// A bare value stands where an object belongs: what was found, what is accepted, and how it is put right where that is plain.
    Bare { found: String, accepted: String, mend: String },
    /// Told already, or part of what was filled in.
    Told,
}

impl Node {
    /// Where a pointer leads to, as the index of each step: sorting by it is sorting by the place in the question.
    pub fn place(&self, pointer: &str) -> Vec<usize> {
        let mut place = Vec::new();
        let mut here = Some(self);
        for token in pointer.split('/').skip(1) {
            let step = here.and_then(|node| node.step(&unescaped(token)));
            place.push(step.map_or(usize::MAX, |(index, _)| index));
            here = step.map(|(_, node)| node);
        }
        place
    }

    fn step(&self, token: &str) -> Option<(usize, &Node)> {
        match self {
            Self::Object(fields) | Self::Filled { fields, .. } => {
                fields.iter().enumerate().find(|(_, (key, _))| key == token).map(|(index, (_, node))| (index, node))
            }
            Self::List(items) => token.parse().ok().and_then(|index: usize| Some((index, items.get(index)?))),
            _ => None,
        }
    }

    /// The node that a pointer names.
    pub fn at_mut(&mut self, pointer: &str) -> Option<&mut Node> {
        pointer.split('/').skip(1).try_fold(self, |node, token| match node {
            Self::Object(fields) | Self::Filled { fields, .. } => {
                let token = unescaped(token);
                fields.iter_mut().find(|(key, _)| *key == token).map(|(_, node)| node)
            }
            Self::List(items) => token.parse().ok().and_then(|index: usize| items.get_mut(index)),
            _ => None,
        })
    }
}

fn unescaped(token: &str) -> String {
    token.replace("~1", "/").replace("~0", "~")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_sort_as_they_were_written_not_by_the_alphabet() {
        let tree = Node::Object(vec![("z".into(), Node::List(vec![Node::Null, Node::Null])), ("a/b".into(), Node::Null)]);
        let mut pointers = ["/a~1b", "/z/1", "/missing", "/z", ""];
        pointers.sort_by_key(|pointer| tree.place(pointer));
        assert_eq!(pointers, ["", "/z", "/z/1", "/a~1b", "/missing"]);
    }
}

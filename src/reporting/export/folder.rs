//! Files of a report in a folder: one a table, the workbook, the document and the lines.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::{Format, Result, csv, json, parquet, xlsx};
use crate::registry::extract::Column;
use crate::reporting::report::Report;

/// A kind of line and its columns.
pub type Lines = (&'static str, Vec<Column>);

/// Name and bytes of each file of a report in these formats, in the order of the formats and of the tables.
///
/// # Errors
/// When a writer refuses, which no report makes it do.
pub fn files(
    report: &Report,
    lines: &[Lines],
    formats: &[Format],
) -> Result<Vec<(String, Vec<u8>)>> {
    let mut files = Vec::new();
    for format in formats {
        match format {
            Format::Csv => {
                for table in &report.tables {
                    files.push((format!("{}.csv", table.id), csv::write(table)?));
                }
            }
            Format::Xlsx => files.push(("tables.xlsx".to_owned(), xlsx::write(report)?)),
            Format::Json => {
                files.push(("tables.json".to_owned(), json::write(report)?.into_bytes()));
            }
            Format::Parquet => {
                for (kind, columns) in lines {
                    files.push((format!("lines-{kind}.parquet"), parquet::write(columns)?));
                }
            }
        }
    }
    Ok(files)
}

/// Writes the files into `out`, those of one post into a folder of its name there; tells where each now stands.
///
/// # Errors
/// When a folder or file cannot be written; a file that stood there before is then whole, old or new.
pub fn write(out: &Path, report: &Report, files: &[(String, Vec<u8>)]) -> io::Result<Vec<PathBuf>> {
    let folder = report
        .post
        .as_deref()
        .map_or_else(|| out.to_owned(), |post| out.join(folder_name(post)));
    fs::create_dir_all(&folder)?;
    let mut written = Vec::new();
    for (name, bytes) in files {
        let (path, half) = (folder.join(name), folder.join(format!(".{name}.part")));
        fs::write(&half, bytes)?;
        fs::rename(&half, &path)?;
        written.push(path);
    }
    Ok(written)
}

/// The name of a post as the name of a folder on any system.
fn folder_name(post: &str) -> String {
    let unsafe_in_names = |sign: char| sign.is_control() || "/\\:*?\"<>|".contains(sign);
    let name: String = post
        .chars()
        .map(|sign| if unsafe_in_names(sign) { '-' } else { sign })
        .collect();
    match name.trim_matches(['.', ' ']) {
        "" => "post".to_owned(),
        name => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::folder_name;

    #[test]
    fn a_post_s_name_never_leads_out_of_the_folder() {
        for (post, folder) in [
            ("Quern Ford", "Quern Ford"),
            ("../../etc", "-..-etc"),
            ("a/b\\c:d", "a-b-c-d"),
            ("..", "post"),
            (" . ", "post"),
            ("Žďár", "Žďár"),
        ] {
            assert_eq!(folder_name(post), folder, "{post}");
        }
    }
}

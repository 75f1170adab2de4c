//! The lines behind the tables as Parquet, without names, telephone or village.

use std::sync::Arc;

use parquet::basic::Compression;
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, Int32Type, Int64Type};
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedColumnWriter, SerializedFileWriter};
use parquet::schema::parser::parse_message_type;

use super::Result;
use crate::registry::extract::{Column, Values};
use crate::reporting::frame::{day_number, second};

/// Columns of equal length as the bytes of a file.
///
/// # Errors
/// When the writer refuses, which columns of equal length never make it do.
pub fn write(columns: &[Column]) -> Result<Vec<u8>> {
    let schema = Arc::new(parse_message_type(&message(columns))?);
    let settings = WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_created_by("brimline".to_owned())
        .build();
    let mut file = SerializedFileWriter::new(Vec::new(), schema, Arc::new(settings))?;
    let mut group = file.next_row_group()?;
    for column in columns {
        if let Some(mut writer) = group.next_column()? {
            put(&mut writer, &column.values)?;
            writer.close()?;
        }
    }
    group.close()?;
    Ok(file.into_inner()?)
}

/// The schema in the words of the format; every column may be absent.
fn message(columns: &[Column]) -> String {
    let fields = columns.iter().map(|column| {
        let (kind, meaning) = match column.values {
            Values::Code(_) | Values::Id(_) => ("BYTE_ARRAY", " (STRING)"),
            Values::Whole(_) => ("INT64", ""),
            Values::Truth(_) => ("BOOLEAN", ""),
            Values::At(_) => ("INT64", " (TIMESTAMP(MILLIS,true))"),
            Values::On(_) => ("INT32", " (DATE)"),
        };
        format!("OPTIONAL {kind} {}{meaning};", column.name)
    });
    format!(
        "message lines {{ {} }}",
        fields.collect::<Vec<_>>().join(" ")
    )
}

fn put(writer: &mut SerializedColumnWriter<'_>, values: &Values) -> Result<()> {
    match values {
        Values::Code(values) => {
            let (there, levels) = split(values, |code| ByteArray::from(*code));
            writer
                .typed::<ByteArrayType>()
                .write_batch(&there, Some(&levels), None)?;
        }
        Values::Id(values) => {
            let (there, levels) = split(values, |id| ByteArray::from(id.as_str()));
            writer
                .typed::<ByteArrayType>()
                .write_batch(&there, Some(&levels), None)?;
        }
        Values::Whole(values) => {
            let (there, levels) = split(values, |whole| *whole);
            writer
                .typed::<Int64Type>()
                .write_batch(&there, Some(&levels), None)?;
        }
        Values::Truth(values) => {
            let (there, levels) = split(values, |truth| *truth);
            writer
                .typed::<BoolType>()
                .write_batch(&there, Some(&levels), None)?;
        }
        Values::At(values) => {
            let (there, levels) = split(values, |at| second(*at) * 1000);
            writer
                .typed::<Int64Type>()
                .write_batch(&there, Some(&levels), None)?;
        }
        Values::On(values) => {
            let (there, levels) = split(values, |day| {
                i32::try_from(day_number(*day)).unwrap_or(i32::MAX)
            });
            writer
                .typed::<Int32Type>()
                .write_batch(&there, Some(&levels), None)?;
        }
    }
    Ok(())
}

/// The values that are there, and for each line whether it has one.
fn split<T, U>(values: &[Option<T>], stored: impl Fn(&T) -> U) -> (Vec<U>, Vec<i16>) {
    let there = values.iter().flatten().map(stored).collect();
    let levels = values
        .iter()
        .map(|value| i16::from(value.is_some()))
        .collect();
    (there, levels)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::*;
    use crate::clinical::Day;
    use parquet::file::reader::{FileReader, SerializedFileReader};
    use parquet::record::RowAccessor;

    #[test]
    fn lines_read_back_as_they_were_written_and_absent_stays_absent() {
        let day = Day::from_ymd_opt(2026, 10, 31).unwrap();
        let columns = [
            Column {
                name: "post",
                values: Values::Code(vec![Some("QF"), None]),
            },
            Column {
                name: "born_on",
                values: Values::On(vec![Some(day), None]),
            },
            Column {
                name: "born_at",
                values: Values::At(vec![day.and_hms_opt(23, 0, 0), None]),
            },
            Column {
                name: "weight_g",
                values: Values::Whole(vec![None, Some(2499)]),
            },
            Column {
                name: "died",
                values: Values::Truth(vec![Some(false), None]),
            },
        ];
        let bytes = write(&columns).unwrap();
        let file = tempfile::tempfile().unwrap();
        std::io::Write::write_all(&mut &file, &bytes).unwrap();
        let reader = SerializedFileReader::new(file).unwrap();
        let rows: Vec<_> = reader
            .get_row_iter(None)
            .unwrap()
            .map(|row| row.unwrap())
            .collect();
        assert_eq!(rows[0].get_string(0).unwrap(), "QF");
        assert_eq!(
            rows[0].get_column_iter().nth(1).unwrap().1.to_string(),
            "2026-10-31"
        );
        assert_eq!(
            rows[0].get_timestamp_millis(2).unwrap(),
            (20_757 * 86_400 + 23 * 3600) * 1000
        );
        assert_eq!(rows[1].get_long(3).unwrap(), 2499);
        assert!(
            rows[0].get_long(3).is_err()
                && rows[1].get_string(0).is_err()
                && rows[1].get_bool(4).is_err()
        );
    }
}

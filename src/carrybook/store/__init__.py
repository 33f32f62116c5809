"""The book: tables, migrations, reading logged balls in. The only room that speaks SQL."""

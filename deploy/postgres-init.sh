#!/bin/sh
# Run once by the Postgres image, when it makes a new database folder: the
# server's own role, which owns its database and nothing else.
set -eu

psql -v ON_ERROR_STOP=1 --username postgres --dbname postgres \
	-v password="$(cat /run/secrets/database_password)" <<'SQL'
CREATE ROLE scaperound LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION PASSWORD :'password';
CREATE DATABASE scaperound OWNER scaperound TEMPLATE template0 ENCODING 'UTF8' LOCALE 'C';
REVOKE CONNECT ON DATABASE scaperound FROM PUBLIC;
SQL

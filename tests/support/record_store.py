#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# record_store.py FOLDER [CERTIFICATE KEY]: a small learning record store for tests, on this machine
# alone. It behaves by the rules for statements of xAPI 2.0 (POST, PUT and GET of /statements, one
# answer for an id that is there) and has the faults named in FOLDER/faults, one a request, before it
# does: 503, drop (the request is lost), lose (it is carried out, and the answer is lost), 400, slow.
# Writes its port to FOLDER/port, and what it holds, in order, to FOLDER/statements.jsonl.
import base64, json, os, ssl, sys
from http.server import BaseHTTPRequestHandler, HTTPServer
from urllib.parse import parse_qs, urlparse

folder = sys.argv[1]
held = {}


def faults():
    path = os.path.join(folder, "faults")
    lines = open(path).read().split() if os.path.exists(path) else []
    if lines:
        with open(path, "w") as out:
            out.write("\n".join(lines[1:]))
        return lines[0]
    return ""


def hold(statement):
    held[statement["id"]] = statement
    with open(os.path.join(folder, "statements.jsonl"), "a") as out:
        out.write(json.dumps(statement) + "\n")


class Handler(BaseHTTPRequestHandler):
    def log_message(self, *_):
        pass

    def answer(self, status, body=b""):
        if self.fault == "lose":
            self.connection.close()
            self.close_connection = True
            return
        self.send_response(status)
        self.send_header("X-Experience-API-Version", "2.0.0")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def ready(self):
        size = int(self.headers.get("Content-Length") or 0)
        self.body = self.rfile.read(size)
        with open(os.path.join(folder, "requests"), "a") as out:
            out.write(self.command + "\n")
        self.fault = faults()
        if self.fault == "drop":
            self.connection.close()
            self.close_connection = True
            return False
        if self.fault.isdigit():
            self.answer(int(self.fault), b"a fault that was asked for")
            return False
        login = os.path.join(folder, "login")
        if os.path.exists(login):
            wanted = "Basic " + base64.b64encode(open(login, "rb").read().strip()).decode()
            if self.headers.get("Authorization") != wanted:
                self.answer(401, b"who are you")
                return False
        if self.headers.get("X-Experience-API-Version") != "2.0.0":
            self.answer(400, b"no version")
            return False
        return True

    def do_POST(self):
        if not self.ready():
            return
        batch = json.loads(self.body)
        if any(s["id"] in held for s in batch):
            return self.answer(409, b"conflict")  # a batch is taken whole or not at all
        for statement in batch:
            hold(statement)
        self.answer(200, json.dumps([s["id"] for s in batch]).encode())

    def wanted(self):
        return parse_qs(urlparse(self.path).query)["statementId"][0]

    def do_PUT(self):
        if not self.ready():
            return
        if self.wanted() in held:
            return self.answer(409, b"conflict")
        hold(json.loads(self.body))
        self.answer(204)

    def do_GET(self):
        if not self.ready():
            return
        found = held.get(self.wanted())
        if found is None:
            return self.answer(404, b"no such statement")
        self.answer(200, json.dumps(dict(found, stored="2026-11-28T00:00:00Z")).encode())


server = HTTPServer(("127.0.0.1", 0), Handler)
if len(sys.argv) > 3:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(sys.argv[2], sys.argv[3])
    server.socket = context.wrap_socket(server.socket, server_side=True)
path = os.path.join(folder, "port")
with open(path + ".new", "w") as out:
    out.write(str(server.server_address[1]))
os.rename(path + ".new", path)
server.serve_forever()

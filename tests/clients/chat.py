"""The official client of the Model Context Protocol in Python, an independent peer of the chat door. Run: chat.py http://127.0.0.1:8080"""

import asyncio
import re
import sys

from mcp import Client

LEAN = {
    "name": "Larkrise table bread",
    "style": "lean-dough",
    "parts": [
        {
            "name": "dough",
            "lines": [
                {"ingredient": "bread flour", "amount": "1 kg"},
                {"ingredient": "water", "amount": "660 g"},
                {"ingredient": "salt", "amount": "20 g"},
                {"ingredient": "instant yeast", "amount": "7 g"},
            ],
        }
    ],
}


def mended(arguments, text):
    """What a reader of the error's text alone makes of the call: at every place named, the first thing to try."""
    for pointer, attempt in re.findall(r'^\d+\. /(\S+) .*?Try: "([^"]+)"', text, re.MULTILINE):
        arguments[pointer] = attempt
    return arguments


async def main(address):
    async with Client(f"{address.rstrip('/')}/mcp") as client:
        print("revision", client.protocol_version)
        assert client.protocol_version == "2026-07-28", client.protocol_version
        tools = {tool.name: tool for tool in (await client.list_tools()).tools}
        assert {"convert", "pan_scale", "batch", "ratio_check", "look_up"} <= tools.keys(), tools.keys()
        assert all(tool.annotations.read_only_hint and len(tool.description) <= 1024 for tool in tools.values())

        honey = await client.call_tool("convert", {"amount": "3 Tbsp", "ingredient": "honey", "to": "g"})
        assert not honey.is_error and 60 < honey.structured_content["result"]["value"] < 66, honey
        assert "infant" in honey.content[0].text, "the caution stands in what is read first"
        print(honey.content[0].text.splitlines()[0])

        balance = await client.call_tool("ratio_check", {"formula": LEAN})
        assert all(finding["verdict"] == "within" for finding in balance.structured_content["findings"]), balance
        assert abs(balance.structured_content["hydration"]["added_liquid"]["percent"] - 66) < 1e-9, balance
        print(balance.content[0].text.splitlines()[0])

        arguments = {"amount": "2 cups", "ingredient": "wheat fluor", "to": "g"}
        refused = await client.call_tool("convert", arguments)
        assert refused.is_error, refused
        print(refused.content[0].text)
        again = await client.call_tool("convert", mended(arguments, refused.content[0].text))
        assert not again.is_error and again.structured_content["result"]["unit"] == "g", again

        style = await client.call_tool("look_up", {"table": "styles", "id": "lean-dough"})
        assert style.structured_content["rows"][0]["id"] == "lean-dough", style
    print("the official client in Python: 5 passed, 0 failed")


if __name__ == "__main__":
    asyncio.run(main(*sys.argv[1:]))

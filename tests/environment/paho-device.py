"""A foreign device written with Eclipse Paho for Python: takes commands and tells events, a line of JSON each."""

import json
import sys
import threading

import paho.mqtt.client as mqtt


# Paho calls back on a thread of its own: without the lock, two lines could end up in one.
telling = threading.Lock()


def tell(event, **details):
    with telling:
        sys.stdout.write(json.dumps({"event": event, **details}) + "\n")
        sys.stdout.flush()


def main():
    options = json.loads(sys.argv[1])
    client = mqtt.Client(client_id=options["clientId"], clean_session=options["clean"], protocol=mqtt.MQTTv311)
    if "user" in options:
        client.username_pw_set(options["user"], options.get("password"))
    if "will" in options:
        will = options["will"]
        client.will_set(will["topic"], will["payload"], qos=will.get("qos", 1), retain=will.get("retain", False))
    client.on_connect = lambda _c, _u, _f, code: tell("connected", code=code)
    client.on_disconnect = lambda _c, _u, code: tell("disconnected", code=code)
    client.on_publish = lambda _c, _u, mid: tell("acknowledged", mid=mid)
    client.on_subscribe = lambda _c, _u, mid, granted: tell("subscribed", mid=mid, granted=list(granted))
    client.on_message = lambda _c, _u, m: tell(
        "message", topic=m.topic, payload=m.payload.decode("utf-8", "replace"), qos=m.qos, retain=bool(m.retain)
    )
    client.connect(options["host"], options["port"], keepalive=options.get("keepaliveSeconds", 30))
    client.loop_start()
    for line in sys.stdin:
        command = json.loads(line)
        if command["do"] == "publish":
            sent = client.publish(
                command["topic"], command["payload"], qos=command["qos"], retain=command["retain"]
            )
            tell("sent", tag=command["tag"], mid=sent.mid)
        elif command["do"] == "subscribe":
            _, mid = client.subscribe(command["topic"], qos=command["qos"])
            tell("sent", tag=command["tag"], mid=mid)
        elif command["do"] == "disconnect":
            client.disconnect()
    client.disconnect()
    client.loop_stop()


main()
